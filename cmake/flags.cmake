# Compiler flags shared by every target. The core must give the same bits on every host: no floating-point contraction,
# no exceptions and no run-time type information, because the WebAssembly target has neither.
option(STANCH_SANITIZE "address and undefined-behaviour sanitizers" OFF)
option(STANCH_WASM "build the core for WebAssembly" OFF)

find_program(STANCH_CCACHE ccache)
if(STANCH_CCACHE)
  set(CMAKE_CXX_COMPILER_LAUNCHER ${STANCH_CCACHE})
endif()

add_compile_options(-Wall -Wextra -Wpedantic -Wshadow -Wconversion -Werror -ffp-contract=off)
set(STANCH_CORE_FLAGS -fno-exceptions -fno-rtti)
if(STANCH_WASM)
  add_compile_options(-Wno-deprecated)  # clang's word on the triple; see wasm-toolchain.cmake
endif()

if(STANCH_SANITIZE)
  set(CMAKE_CXX_FLAGS_RELWITHDEBINFO "-O1 -g1")
  list(APPEND STANCH_CORE_FLAGS -fno-sanitize=vptr)  # that check needs run-time type information
  add_compile_options(-fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer)
  add_link_options(-fsanitize=address,undefined)
endif()
