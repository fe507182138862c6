target_sources(test-exchange PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/solid/plates.cpp)
# Foreign STEP files are made with the kernel alone, in its own manner.
find_package(OpenCASCADE CONFIG REQUIRED)
target_include_directories(test-exchange SYSTEM PRIVATE ${OpenCASCADE_INCLUDE_DIR})
target_link_libraries(test-exchange PRIVATE TKMesh TKBO TKPrim TKSTEP)
# Rods are judged by another mesh library too, which counts with these.
target_link_libraries(test-exchange PRIVATE gmp mpfr)
# An independent judge of meshes, apart: CGAL brings compiler options of its own.
find_package(CGAL CONFIG REQUIRED)
add_library(test-independent-mesh STATIC ${CMAKE_CURRENT_SOURCE_DIR}/exchange/independent_mesh.cpp)
target_include_directories(test-independent-mesh PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
target_link_libraries(test-independent-mesh PRIVATE fitup_flags CGAL::CGAL)
target_sources(test-exchange PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/exchange/random_plates.cpp)
target_link_libraries(test-exchange PRIVATE test-independent-mesh)
