# Where everything belongs on a system: program, library, kernel half, headers, package files, schemas, manual, completions.
include(CMakePackageConfigHelpers)

set(FITUP_PACKAGE_FOLDER ${CMAKE_INSTALL_LIBDIR}/cmake/fitup)
install(TARGETS fitup EXPORT fitup-targets LIBRARY DESTINATION ${CMAKE_INSTALL_LIBDIR})
install(TARGETS fitup-kernel fitup-render fitup-print LIBRARY DESTINATION ${CMAKE_INSTALL_LIBDIR}/fitup)
install(TARGETS fitup-program RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(EXPORT fitup-targets NAMESPACE fitup:: DESTINATION ${FITUP_PACKAGE_FOLDER})
install(DIRECTORY base parameters trade plan parts rules mesh calculations exchange sheets solid
        DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/fitup FILES_MATCHING PATTERN "*.hpp" PATTERN "*_impl.hpp" EXCLUDE
        PATTERN "*_side" EXCLUDE PATTERN "tables" EXCLUDE PATTERN "starters" EXCLUDE)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/schemas/ DESTINATION ${CMAKE_INSTALL_DATADIR}/fitup/schemas
        FILES_MATCHING PATTERN "*.json")

file(WRITE ${CMAKE_CURRENT_BINARY_DIR}/fitup-config.cmake "include(\${CMAKE_CURRENT_LIST_DIR}/fitup-targets.cmake)\n")
write_basic_package_version_file(${CMAKE_CURRENT_BINARY_DIR}/fitup-config-version.cmake COMPATIBILITY SameMajorVersion)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/fitup-config.cmake ${CMAKE_CURRENT_BINARY_DIR}/fitup-config-version.cmake
        DESTINATION ${FITUP_PACKAGE_FOLDER})

# Manual and completions come from the program itself, so that they cannot fall behind it.
set(FITUP_TEXTS ${CMAKE_CURRENT_BINARY_DIR}/texts)
add_custom_command(
    OUTPUT ${FITUP_TEXTS}/fitup.1 ${FITUP_TEXTS}/fitup.bash ${FITUP_TEXTS}/_fitup ${FITUP_TEXTS}/fitup.fish
    COMMAND ${CMAKE_COMMAND} -E make_directory ${FITUP_TEXTS}
    COMMAND fitup-program manual > ${FITUP_TEXTS}/fitup.1
    COMMAND fitup-program completion bash > ${FITUP_TEXTS}/fitup.bash
    COMMAND fitup-program completion zsh > ${FITUP_TEXTS}/_fitup
    COMMAND fitup-program completion fish > ${FITUP_TEXTS}/fitup.fish
    DEPENDS fitup-program VERBATIM)
add_custom_target(fitup-texts ALL DEPENDS ${FITUP_TEXTS}/fitup.1 ${FITUP_TEXTS}/fitup.bash)
install(FILES ${FITUP_TEXTS}/fitup.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${FITUP_TEXTS}/fitup.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME fitup)
install(FILES ${FITUP_TEXTS}/_fitup DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/site-functions)
install(FILES ${FITUP_TEXTS}/fitup.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d)
