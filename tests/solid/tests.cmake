# These tests look into the solid with the kernel's own questions.
find_package(OpenCASCADE CONFIG REQUIRED)
target_include_directories(test-solid SYSTEM PRIVATE ${OpenCASCADE_INCLUDE_DIR})
target_link_libraries(test-solid PRIVATE TKMesh TKBO TKPrim TKSTEP)
target_sources(test-solid PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/solid/plates.cpp ${CMAKE_CURRENT_SOURCE_DIR}/solid/sound.cpp ${CMAKE_CURRENT_SOURCE_DIR}/solid/threads.cpp)
