find_package(Eigen3 CONFIG REQUIRED)
target_link_libraries(test-calculations PRIVATE Eigen3::Eigen nlohmann_json::nlohmann_json)
