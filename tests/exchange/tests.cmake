target_sources(test-exchange PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/solid/plates.cpp)
