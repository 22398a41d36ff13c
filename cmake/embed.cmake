# stanch_embed(TARGET FILE NAME): compiles a file's bytes into a target as `std::string_view stanch::embedded::NAME()`.
function(stanch_embed target file name)
  file(READ ${file} hex HEX)
  string(REGEX REPLACE "(..)" "char(0x\\1)," bytes "${hex}")
  set(out ${CMAKE_BINARY_DIR}/generated/embedded/${name}.cpp)
  file(CONFIGURE OUTPUT ${out} CONTENT
"#include <string_view>
namespace stanch::embedded {
std::string_view @name@() {
  static constexpr char text[] = {@bytes@ char(0)};
  return {text, sizeof(text) - 1};
}
}  // namespace stanch::embedded
" @ONLY)
  set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${file})
  target_sources(${target} PRIVATE ${out})
endfunction()
