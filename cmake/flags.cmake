# Compiler flags shared by every target. The core must give the same bits on every host: no floating-point contraction,
# no exceptions and no run-time type information, because the WebAssembly target has neither.
option(STANCH_SANITIZE "address and undefined-behaviour sanitizers" OFF)
option(STANCH_WASM "build the core for WebAssembly" OFF)

find_program(STANCH_CCACHE ccache)
if(STANCH_CCACHE)
  # Paths relative to the source folder, so that two checkouts of the same sources share what was compiled.
  set(CMAKE_CXX_COMPILER_LAUNCHER
      ${CMAKE_COMMAND} -E env CCACHE_BASEDIR=${CMAKE_SOURCE_DIR} CCACHE_NOHASHDIR=1 ${STANCH_CCACHE})
endif()

add_compile_options(-Wall -Wextra -Wpedantic -Wshadow -Wconversion -Werror -ffp-contract=off)
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
  add_compile_options(-Wno-restrict)  # g++ 12 raises it wrongly on string concatenation
endif()
set(STANCH_CORE_FLAGS -fno-exceptions -fno-rtti)
if(STANCH_WASM)
  add_compile_options(-Wno-deprecated)  # clang's word on the triple; see wasm-toolchain.cmake
endif()

if(STANCH_SANITIZE)
  set(CMAKE_CXX_FLAGS_RELWITHDEBINFO "-O1 -g1")
  # The vptr check needs run-time type information, which the core lacks. With sanitizers on, g++ warns of uninitialised
  # values and mismatched frees that are not there: its warnings are errors in the other builds only.
  add_compile_options(-fsanitize=address,undefined -fno-sanitize=vptr -fno-sanitize-recover=all
                      -fno-omit-frame-pointer -Wno-error -Wno-maybe-uninitialized -Wno-mismatched-new-delete)
  add_link_options(-fsanitize=address,undefined)
endif()
