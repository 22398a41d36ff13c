# Compiles the web app's files into the server. STANCH_WEB names the folder with the built app (web/build.sh leaves
# web/dist); without it the server says that it has no app. A file beside another with .br or .gz behind its name is that
# one's compressed form; a missing .gz is made here.
set(STANCH_WEB "" CACHE PATH "folder of the built web app, to be compiled into the server")

# stanch_web_assets(TARGET FOLDER): FOLDER may be empty.
function(stanch_web_assets target folder)
  set(out ${CMAKE_BINARY_DIR}/generated/web/${target})
  file(MAKE_DIRECTORY ${out})
  set(paths)
  if(folder)
    if(NOT EXISTS ${folder}/index.html)
      message(FATAL_ERROR "STANCH_WEB is ${folder}, which holds no index.html; run web/build.sh first.")
    endif()
    file(GLOB_RECURSE paths RELATIVE ${folder} CONFIGURE_DEPENDS ${folder}/*)
  endif()
  list(FILTER paths EXCLUDE REGEX "\\.(br|gz|map)$|(^|/)\\.")
  list(SORT paths)

  set(types
    html text/html  js text/javascript  mjs text/javascript  css text/css  txt text/plain
    json application/json  webmanifest application/manifest+json  wasm application/wasm
    svg image/svg+xml  png image/png  webp image/webp  jpg image/jpeg  ico image/x-icon  woff2 font/woff2
    mp3 audio/mpeg  ogg audio/ogg  wav audio/wav)
  set(data "")  # assembler: the bytes of each file between two labels
  set(names "") # C++: those labels
  set(rows "")  # C++: the table
  set(files)
  set(number 0)

  macro(embed_bytes label file)
    string(APPEND data "    \".globl ${label}_begin, ${label}_end\\n${label}_begin: .incbin \\\"${file}\\\"\\n\"\n"
                       "    \"${label}_end: .byte 0\\n\"\n")
    string(APPEND names "extern const char ${label}_begin[], ${label}_end[];\n")
    list(APPEND files ${file})
  endmacro()

  foreach(path IN LISTS paths)
    math(EXPR number "${number} + 1")
    set(label "stanch_${target}_${number}")
    set(file ${folder}/${path})
    file(SHA256 ${file} hash)
    string(SUBSTRING ${hash} 0 32 hash)
    string(REGEX MATCH "[^.]*$" extension "${path}")
    list(FIND types "${extension}" at)
    set(type application/octet-stream)
    if(at GREATER_EQUAL 0)
      math(EXPR at "${at} + 1")
      list(GET types ${at} type)
    endif()
    string(REGEX REPLACE "^text/.*" "\\0; charset=utf-8" type "${type}")
    embed_bytes(${label} ${file})
    set(gzip "{}")
    set(brotli "{}")
    if(EXISTS ${file}.br)
      embed_bytes(${label}_br ${file}.br)
      set(brotli "between(${label}_br_begin, ${label}_br_end)")
    endif()
    set(packed ${file}.gz)
    if(NOT EXISTS ${packed})
      set(packed ${out}/${number}.gz)
      execute_process(COMMAND gzip -9 -n -c ${file} OUTPUT_FILE ${packed} COMMAND_ERROR_IS_FATAL ANY)
    endif()
    file(SIZE ${file} plain_size)
    file(SIZE ${packed} packed_size)
    if(packed_size LESS plain_size)
      embed_bytes(${label}_gz ${packed})
      set(gzip "between(${label}_gz_begin, ${label}_gz_end)")
    endif()
    string(APPEND rows "      {\"/${path}\", \"${type}\", \"\\\"${hash}\\\"\",\n"
                       "       between(${label}_begin, ${label}_end), ${gzip}, ${brotli}},\n")
  endforeach()

  if(rows)
    set(body
"extern \"C\" {
${names}}
asm(\".pushsection .rodata\\n\"
${data}    \".popsection\\n\");
namespace stanch::server {
namespace {
std::string_view between(const char* begin, const char* end) { return {begin, static_cast<std::size_t>(end - begin)}; }
}  // namespace
std::span<const Asset> assets() {
  static const Asset all[] = {
${rows}  };
  return all;
}
}  // namespace stanch::server
")
  else()
    set(body "namespace stanch::server {\nstd::span<const Asset> assets() { return {}; }\n}  // namespace stanch::server\n")
  endif()
  file(CONFIGURE OUTPUT ${out}/assets.cpp CONTENT "#include \"server/web/asset.hpp\"\n@body@" @ONLY)
  set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${files})
  set_source_files_properties(${out}/assets.cpp PROPERTIES OBJECT_DEPENDS "${files}")
  target_sources(${target} PRIVATE ${out}/assets.cpp)
  target_include_directories(${target} PRIVATE ${CMAKE_SOURCE_DIR})
endfunction()
