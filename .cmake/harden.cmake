# What a Release build of ours is given against a hostile file that finds a fault we don't know of: an address space laid
# out at random (PIE), tables of functions that can't be overwritten (RELRO, bound at start), no code on the stack, guarded
# stack frames, and checked copies of the C library. The command always has them; the library has the last two when
# AIRTALLY_HARDEN says so, as cli/try and tests/run do. Not for sanitized builds, which check more and in another way.
# tests/cli/hardened looks at what came of it.
include(CheckPIESupported)
check_pie_supported(LANGUAGES CXX)

function(airtally_harden target)
  if(AIRTALLY_SANITIZE)
    return()
  endif()
  target_compile_options(${target} PRIVATE $<$<CONFIG:Release>:-fstack-protector-strong>)
  target_compile_definitions(${target} PRIVATE $<$<CONFIG:Release>:_FORTIFY_SOURCE=2>)
  get_target_property(kind ${target} TYPE)
  if(kind STREQUAL "EXECUTABLE")
    target_link_options(${target} PRIVATE $<$<CONFIG:Release>:LINKER:-z,relro,-z,now,-z,noexecstack>)
  endif()
endfunction()
