# The checker beside another implementation of the standard (python3-jsonschema), on files changed at random.
add_executable(parameters-judge ${CMAKE_CURRENT_LIST_DIR}/judge.cpp)
target_link_libraries(parameters-judge PRIVATE fitup fitup_flags)
add_dependencies(test-parameters parameters-judge)
add_test(NAME parameters/compare_with_jsonschema
         COMMAND /usr/bin/python3 ${CMAKE_CURRENT_LIST_DIR}/compare.py $<TARGET_FILE:parameters-judge>
                 ${PROJECT_SOURCE_DIR} 1)
set_tests_properties(parameters/compare_with_jsonschema PROPERTIES TIMEOUT 600)
