# A Debian package of what is installed: cpack --config build/CPackConfig.cmake -G DEB
set(CPACK_PACKAGE_NAME airtally)
set(CPACK_PACKAGE_VENDOR "the airtally authors")
set(CPACK_PACKAGE_CONTACT "the airtally authors <airtally@localhost>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "${PROJECT_DESCRIPTION}")
set(CPACK_RESOURCE_FILE_LICENSE ${PROJECT_SOURCE_DIR}/docs/LICENSE)
set(CPACK_STRIP_FILES ON)
set(CPACK_GENERATOR DEB)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_SUGGESTS "libfmt-dev, g++, cmake")
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION
  "Works out the vacuum and the flow at every place of a pick-up line (pump, hose,
 couplers, valve, filter, rotary joint, nozzle), says which element costs the tip
 the most, and which joint to block next to be sure. The command, its manual
 pages and completions, and the C++20 library behind it.")
include(CPack)
