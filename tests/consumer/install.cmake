# cmake -DBUILD=... -DSTAGE=... -P install.cmake: a clean stage, so that no header of an earlier install can be found.
file(REMOVE_RECURSE ${STAGE})
execute_process(COMMAND ${CMAKE_COMMAND} --install ${BUILD} --prefix ${STAGE}/prefix
  OUTPUT_QUIET COMMAND_ERROR_IS_FATAL ANY)

# Private headers are for our own .cpp files.
file(GLOB_RECURSE private ${STAGE}/prefix/*_private.hpp)
if(private)
  message(FATAL_ERROR "These private headers were installed: ${private}")
endif()
foreach(wanted IN ITEMS include/airtally/errors.hpp include/airtally/gas/air.hpp include/airtally/version.hpp
                        share/airtally/docs/LICENSE share/man/man1/airtally.1 share/man/man1/airtally-rank.1
                        share/bash-completion/completions/airtally share/zsh/site-functions/_airtally
                        share/fish/vendor_completions.d/airtally.fish)
  if(NOT EXISTS ${STAGE}/prefix/${wanted})
    message(FATAL_ERROR "${wanted} was not installed")
  endif()
endforeach()
