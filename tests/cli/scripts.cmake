# script_test(SCRIPT NAME [MORE ...]): tests/cli/SCRIPT is told the sources, the command, a folder of its own, and MORE.
function(script_test script name)
  add_test(NAME "cli: ${name}" COMMAND sh ${CMAKE_CURRENT_LIST_DIR}/${script}
    ${PROJECT_SOURCE_DIR} $<TARGET_FILE:airtally> ${CMAKE_CURRENT_BINARY_DIR}/${script} ${ARGN})
endfunction()

# What is asked and answered, and the exit code.
script_test(decide "joint and pumps end with 0, 1 or 2")
script_test(hold "hold ends with 0, 1 or 2")
script_test(sense "sense ends with 0, 1 or 2")
script_test(hunt "hunt at the bench over a pipe")
script_test(new "new by options and by questions")
script_test(fits "answers keep to 80 columns and, asked to, to ASCII")
add_test(NAME "cli: help, manual pages and completions" COMMAND bash ${CMAKE_CURRENT_LIST_DIR}/help
  ${PROJECT_SOURCE_DIR} $<TARGET_FILE:airtally> ${CMAKE_CURRENT_BINARY_DIR}/help)

# What is not to be lost, what gets in, and whether the answer is everywhere the same.
add_test(NAME "cli: bad input gets its sentence" COMMAND sh ${PROJECT_SOURCE_DIR}/tests/bad-input/run
  ${PROJECT_SOURCE_DIR} $<TARGET_FILE:airtally> ${CMAKE_CURRENT_BINARY_DIR}/bad-input)
script_test(piped "a line through a pipe")
script_test(same-answer "the same answer everywhere")
add_library(airtally_faults MODULE faults.cpp)
target_link_libraries(airtally_faults PRIVATE airtally_settings ${CMAKE_DL_LIBS})
script_test(nothing-lost "nothing is lost" $<TARGET_FILE:airtally_faults>)
if(CMAKE_BUILD_TYPE STREQUAL "Release" AND NOT AIRTALLY_SANITIZE)
  add_test(NAME "cli: hardened" COMMAND sh ${CMAKE_CURRENT_LIST_DIR}/hardened $<TARGET_FILE:airtally>)
endif()
# Each runs the command a hundred times or more.
set_tests_properties("cli: the same answer everywhere" "cli: nothing is lost" PROPERTIES LABELS slow)
