target_link_libraries(test-cli PRIVATE nlohmann_json::nlohmann_json)
