# Turns protocol/default/*.toml into what the core is compiled with: a header of keys, so that a misspelt value id does
# not compile, and the whole protocol as one JSON text. The tool runs on the build machine, also when the target is WASM.
set(STANCH_GENERATED_DIR ${CMAKE_BINARY_DIR}/generated)
file(GLOB protocol_files CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/protocol/default/*.toml)

find_program(STANCH_HOST_CXX NAMES g++ c++ REQUIRED)
set(embed ${CMAKE_BINARY_DIR}/tools/protocol_embed)
add_custom_command(
  OUTPUT ${embed}
  COMMAND ${CMAKE_COMMAND} -E make_directory ${CMAKE_BINARY_DIR}/tools
  COMMAND ${CMAKE_CXX_COMPILER_LAUNCHER} ${STANCH_HOST_CXX} -std=c++20 -O1 -c
          ${CMAKE_SOURCE_DIR}/tools/protocol_embed.cpp -o ${embed}.o
  COMMAND ${STANCH_HOST_CXX} ${embed}.o -o ${embed}
  DEPENDS ${CMAKE_SOURCE_DIR}/tools/protocol_embed.cpp
  COMMENT "Building the protocol embedder"
  VERBATIM)
add_custom_command(
  OUTPUT ${STANCH_GENERATED_DIR}/stanch/protocol/keys.hpp ${STANCH_GENERATED_DIR}/stanch/protocol/default_protocol.cpp
  COMMAND ${embed} ${STANCH_GENERATED_DIR}/stanch/protocol ${protocol_files}
  DEPENDS ${embed} ${protocol_files}
  COMMENT "Embedding the default protocol"
  VERBATIM)
set(STANCH_GENERATED_SOURCES
    ${STANCH_GENERATED_DIR}/stanch/protocol/keys.hpp ${STANCH_GENERATED_DIR}/stanch/protocol/default_protocol.cpp)
