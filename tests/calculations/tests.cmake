find_package(Eigen3 CONFIG REQUIRED)
find_package(NLopt CONFIG REQUIRED)
target_link_libraries(test-calculations PRIVATE Eigen3::Eigen NLopt::nlopt nlohmann_json::nlohmann_json)
