target_sources(test-exchange PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/solid/plates.cpp)
# Foreign STEP files are made with the kernel alone, in its own manner.
find_package(OpenCASCADE CONFIG REQUIRED)
target_include_directories(test-exchange SYSTEM PRIVATE ${OpenCASCADE_INCLUDE_DIR})
target_link_libraries(test-exchange PRIVATE TKMesh TKBO TKPrim TKSTEP)
# Rods are judged by another mesh library too, which counts with these.
target_link_libraries(test-exchange PRIVATE gmp mpfr)
