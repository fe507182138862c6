target_sources(test-sheets PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/exchange/random_plates.cpp)

# The renderer of a machine without any font.
add_library(render-without-font MODULE ${PROJECT_SOURCE_DIR}/generators/sheets/cairo_side/renderer.cpp sheets/no_font.cpp)
target_link_libraries(render-without-font PRIVATE fitup fitup_flags PkgConfig::CAIRO)
add_dependencies(test-sheets render-without-font)
target_compile_definitions(test-sheets PRIVATE FITUP_RENDER_WITHOUT_FONT="$<TARGET_FILE:render-without-font>")
