# What is not to be lost, what gets in, and whether the answer is everywhere the same.
add_test(NAME "cli: bad input gets its sentence" COMMAND sh ${PROJECT_SOURCE_DIR}/tests/bad-input/run
  ${PROJECT_SOURCE_DIR} $<TARGET_FILE:airtally> ${CMAKE_CURRENT_BINARY_DIR}/bad-input)
add_test(NAME "cli: a line through a pipe" COMMAND sh ${CMAKE_CURRENT_LIST_DIR}/piped
  ${PROJECT_SOURCE_DIR} $<TARGET_FILE:airtally> ${CMAKE_CURRENT_BINARY_DIR}/piped)
add_test(NAME "cli: the same answer everywhere" COMMAND sh ${CMAKE_CURRENT_LIST_DIR}/same-answer
  ${PROJECT_SOURCE_DIR} $<TARGET_FILE:airtally> ${CMAKE_CURRENT_BINARY_DIR}/same-answer)
add_library(airtally_faults MODULE faults.cpp)
target_link_libraries(airtally_faults PRIVATE airtally_settings ${CMAKE_DL_LIBS})
add_test(NAME "cli: nothing is lost" COMMAND sh ${CMAKE_CURRENT_LIST_DIR}/nothing-lost
  ${PROJECT_SOURCE_DIR} $<TARGET_FILE:airtally> ${CMAKE_CURRENT_BINARY_DIR}/nothing-lost $<TARGET_FILE:airtally_faults>)
if(CMAKE_BUILD_TYPE STREQUAL "Release" AND NOT AIRTALLY_SANITIZE)
  add_test(NAME "cli: hardened" COMMAND sh ${CMAKE_CURRENT_LIST_DIR}/hardened $<TARGET_FILE:airtally>)
endif()
# Each runs the command a hundred times or more.
set_tests_properties("cli: the same answer everywhere" "cli: nothing is lost" PROPERTIES LABELS slow)
