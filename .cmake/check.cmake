# The one loop for everyone: `cmake --build build --target check` builds every target of ours and looks at the format, then
# runs CTest.
include(ProcessorCount)
ProcessorCount(processors)
if(processors EQUAL 0)
  set(processors 1)
endif()

function(airtally_targets_below dir result)
  get_property(targets DIRECTORY ${dir} PROPERTY BUILDSYSTEM_TARGETS)
  get_property(folders DIRECTORY ${dir} PROPERTY SUBDIRECTORIES)
  foreach(folder IN LISTS folders)
    airtally_targets_below(${folder} more)
    list(APPEND targets ${more})
  endforeach()
  set(${result} ${targets} PARENT_SCOPE)
endfunction()

airtally_targets_below(${PROJECT_SOURCE_DIR} targets)
add_custom_target(check
  COMMAND ${CMAKE_CTEST_COMMAND} --test-dir ${PROJECT_BINARY_DIR} --output-on-failure -j ${processors}
  USES_TERMINAL COMMENT "Running every test")
foreach(target IN LISTS targets)
  get_target_property(kind ${target} TYPE)
  if(kind MATCHES "EXECUTABLE|LIBRARY" AND NOT kind STREQUAL "INTERFACE_LIBRARY")
    add_dependencies(check ${target})
  endif()
endforeach()

# Other versions of clang-format lay out other files, so only the pinned one judges, and only where it is installed. What is
# judged are the files under version control, as in .ci/run.
find_program(AIRTALLY_CLANG_FORMAT clang-format-14)
find_package(Git QUIET)
if(AIRTALLY_CLANG_FORMAT AND Git_FOUND AND EXISTS ${PROJECT_SOURCE_DIR}/.git)
  add_custom_target(format-check
    COMMAND ${GIT_EXECUTABLE} ls-files -z "*.cpp" "*.hpp" | xargs -0 ${AIRTALLY_CLANG_FORMAT} --dry-run -Werror
    WORKING_DIRECTORY ${PROJECT_SOURCE_DIR} VERBATIM COMMENT "Looking at the format of every source file")
  add_dependencies(check format-check)
endif()
