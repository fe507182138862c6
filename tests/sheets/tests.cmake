target_sources(test-sheets PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/exchange/random_plates.cpp)
