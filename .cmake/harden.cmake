# What a Release build of ours is given against a hostile file that finds a fault we don't know of: an address space laid
# out at random (PIE), tables of functions that can't be overwritten (RELRO, bound at start), no code on the stack, guarded
# stack frames, and checked copies of the C library. The command always has them; the library has the last two when
# AIRTALLY_HARDEN says so, as cli/try and tests/run do. Not for what sanitizers watch, which checks more, in another way.
# tests/cli/hardened looks at what came of it.
include(CheckPIESupported)
check_pie_supported(LANGUAGES CXX)

function(airtally_harden target)
  get_target_property(kind ${target} TYPE)
  # The command's objects are linked to the watched library as well. The plain library's are not: they stay as they are,
  # and need not be compiled again when a build folder is asked for the watched twins too.
  if(AIRTALLY_SANITIZE AND kind STREQUAL "EXECUTABLE")
    return()
  endif()
  target_compile_options(${target} PRIVATE $<$<CONFIG:Release>:-fstack-protector-strong>)
  target_compile_definitions(${target} PRIVATE $<$<CONFIG:Release>:_FORTIFY_SOURCE=2>)
  if(kind STREQUAL "EXECUTABLE")
    target_link_options(${target} PRIVATE $<$<CONFIG:Release>:LINKER:-z,relro,-z,now,-z,noexecstack>)
  endif()
endfunction()
