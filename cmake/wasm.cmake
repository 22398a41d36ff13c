# The core for WebAssembly: one module with a plain C face (wasm/bindings.cpp), small before fast.
set(CMAKE_CXX_FLAGS_RELEASE "-Oz -DNDEBUG")

# Only these header-only libraries may be seen. The whole host include folder would bring in the host's C library.
set(header_only ${CMAKE_BINARY_DIR}/header_only)
file(MAKE_DIRECTORY ${header_only})
foreach(library nlohmann tl)
  find_path(STANCH_${library}_PARENT ${library} PATHS /usr/include /usr/local/include NO_DEFAULT_PATH REQUIRED)
  file(CREATE_LINK ${STANCH_${library}_PARENT}/${library} ${header_only}/${library} SYMBOLIC)
endforeach()
target_include_directories(stanch_core SYSTEM PUBLIC ${header_only})

add_executable(stanch_core_wasm wasm/bindings.cpp)
set_target_properties(stanch_core_wasm PROPERTIES OUTPUT_NAME stanch_core SUFFIX .wasm)
target_compile_options(stanch_core_wasm PRIVATE ${STANCH_CORE_FLAGS})
target_link_libraries(stanch_core_wasm PRIVATE stanch_core)
# The stack comes first in memory, so that running out of it stops the module instead of overwriting data.
target_link_options(stanch_core_wasm PRIVATE -mexec-model=reactor -Wl,--strip-all -Wl,--gc-sections
                    -Wl,--stack-first -Wl,-z,stack-size=1048576)
add_custom_command(
  TARGET stanch_core_wasm POST_BUILD
  COMMAND ${CMAKE_SOURCE_DIR}/wasm/print_size.sh $<TARGET_FILE:stanch_core_wasm>
  VERBATIM)

# The benchmarks' own module; the product's has no benchmark code.
if(STANCH_BENCH)
  add_executable(stanch_bench_wasm bench/wasm_bench.cpp bench/case_work.cpp bench/long_case.cpp)
  set_target_properties(stanch_bench_wasm PROPERTIES OUTPUT_NAME stanch_bench SUFFIX .wasm)
  target_include_directories(stanch_bench_wasm PRIVATE ${CMAKE_SOURCE_DIR})
  target_compile_options(stanch_bench_wasm PRIVATE ${STANCH_CORE_FLAGS})
  target_link_libraries(stanch_bench_wasm PRIVATE stanch_core)
  target_link_options(stanch_bench_wasm PRIVATE -mexec-model=reactor -Wl,--strip-all -Wl,--gc-sections
                      -Wl,--stack-first -Wl,-z,stack-size=1048576)
endif()
