# Installs what was built to a prefix of its own, then configures, builds and runs a user of it that knows nothing of
# this repository.
set(stage ${CMAKE_CURRENT_BINARY_DIR}/consumer)

add_test(NAME "install: to a fresh prefix" COMMAND ${CMAKE_COMMAND}
  -DBUILD=${PROJECT_BINARY_DIR} -DSTAGE=${stage} -P ${CMAKE_CURRENT_LIST_DIR}/install.cmake)
add_test(NAME "install: find_package(airtally) configures a user" COMMAND ${CMAKE_COMMAND}
  -S ${CMAKE_CURRENT_LIST_DIR} -B ${stage}/build -G ${CMAKE_GENERATOR} -DCMAKE_PREFIX_PATH=${stage}/prefix
  -DCMAKE_CXX_COMPILER=${CMAKE_CXX_COMPILER} -DCMAKE_CXX_COMPILER_LAUNCHER=${CMAKE_CXX_COMPILER_LAUNCHER}
  -DAIRTALLY_EXPECTED=${PROJECT_VERSION} -DAIRTALLY_PREFIX=${stage}/prefix)
add_test(NAME "install: airtally::core links to a user" COMMAND ${CMAKE_COMMAND} --build ${stage}/build)
add_test(NAME "install: the user runs" COMMAND ${stage}/build/consumer)
add_test(NAME "install: the command says its version" COMMAND ${stage}/prefix/${CMAKE_INSTALL_BINDIR}/airtally --version)

add_test(NAME "install: the example of docs/cpp.md answers" COMMAND ${stage}/build/example)
add_test(NAME "install: pkg-config links a user" COMMAND sh ${CMAKE_CURRENT_LIST_DIR}/pkg_config
  ${CMAKE_CXX_COMPILER} ${stage}/prefix/${CMAKE_INSTALL_LIBDIR}/pkgconfig ${CMAKE_CURRENT_LIST_DIR}/example.cpp ${stage})

set_tests_properties("install: to a fresh prefix" PROPERTIES FIXTURES_SETUP installed)
set_tests_properties("install: find_package(airtally) configures a user" PROPERTIES
  FIXTURES_REQUIRED installed FIXTURES_SETUP consumer_configured)
set_tests_properties("install: airtally::core links to a user" PROPERTIES
  FIXTURES_REQUIRED consumer_configured FIXTURES_SETUP consumer_built)
set_tests_properties("install: the user runs" PROPERTIES FIXTURES_REQUIRED consumer_built)
set_tests_properties("install: the command says its version" PROPERTIES
  FIXTURES_REQUIRED installed PASS_REGULAR_EXPRESSION "^airtally ${PROJECT_VERSION}\n$")
set_tests_properties("install: the example of docs/cpp.md answers" PROPERTIES
  FIXTURES_REQUIRED consumer_built PASS_REGULAR_EXPRESSION "^tip: [1-9][0-9.]* kPa\nhose costs it [1-9]")
set_tests_properties("install: pkg-config links a user" PROPERTIES FIXTURES_REQUIRED installed)
