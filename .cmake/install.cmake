# What `cmake --install` puts where: the library, its public headers and its package files for find_package(airtally),
# the command, and the lines and docs.
include(CMakePackageConfigHelpers)

set(package_dir ${CMAKE_INSTALL_LIBDIR}/cmake/airtally)

install(TARGETS airtally_core EXPORT airtally_targets
  ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR} LIBRARY DESTINATION ${CMAKE_INSTALL_LIBDIR})
install(TARGETS airtally RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})

# The folders of core/ are kept, so that <airtally/laws/duct.hpp> is core/laws/duct.hpp.
# A header named *_private.hpp is for the .cpp files of its own folder only.
install(DIRECTORY ${PROJECT_SOURCE_DIR}/core/ ${PROJECT_BINARY_DIR}/core/include/versioned/airtally/
  DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/airtally
  FILES_MATCHING PATTERN "*.hpp" PATTERN "*_private.hpp" EXCLUDE)

install(EXPORT airtally_targets NAMESPACE airtally:: FILE airtally-targets.cmake DESTINATION ${package_dir})
configure_package_config_file(${CMAKE_CURRENT_LIST_DIR}/airtally-config.cmake.in
  ${PROJECT_BINARY_DIR}/airtally-config.cmake INSTALL_DESTINATION ${package_dir})
# Below 1.0 a new minor version may break its users.
write_basic_package_version_file(${PROJECT_BINARY_DIR}/airtally-config-version.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/airtally-config.cmake ${PROJECT_BINARY_DIR}/airtally-config-version.cmake
  DESTINATION ${package_dir})

# For pkg-config; the prefix is found from where the file lies, so that the tree may be moved.
file(RELATIVE_PATH to_prefix /${CMAKE_INSTALL_LIBDIR}/pkgconfig /)
string(REGEX REPLACE "/$" "" to_prefix "${to_prefix}")
set(static_needs " -lfmt")  # the library is static: whoever links to it links to fmt, too
if(AIRTALLY_SHARED)
  set(static_needs "")
endif()
configure_file(${CMAKE_CURRENT_LIST_DIR}/airtally.pc.in ${PROJECT_BINARY_DIR}/airtally.pc @ONLY)
install(FILES ${PROJECT_BINARY_DIR}/airtally.pc DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig)

# Written by the command itself when it was built.
install(DIRECTORY ${PROJECT_BINARY_DIR}/cli/help/man1 DESTINATION ${CMAKE_INSTALL_MANDIR})
install(FILES ${PROJECT_BINARY_DIR}/cli/help/airtally.bash RENAME airtally
  DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions)
install(FILES ${PROJECT_BINARY_DIR}/cli/help/_airtally DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/site-functions)
install(FILES ${PROJECT_BINARY_DIR}/cli/help/airtally.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d)

install(DIRECTORY ${PROJECT_SOURCE_DIR}/lines ${PROJECT_SOURCE_DIR}/docs DESTINATION ${CMAKE_INSTALL_DATADIR}/airtally)
install(FILES ${PROJECT_SOURCE_DIR}/README.md DESTINATION ${CMAKE_INSTALL_DATADIR}/airtally)

if(PROJECT_IS_TOP_LEVEL)
  include(${CMAKE_CURRENT_LIST_DIR}/package.cmake)
endif()
