# Native targets: the `stanch` command, the tests beside the core, the checks against published figures, the tools that
# the tests use, and the benchmarks. Tests and hosts are compiled with exceptions; only the core does without them.
option(STANCH_TESTS "build the tests and the tools they use" ON)
option(STANCH_BENCH "build the benchmarks" OFF)

include(cmake/embed.cmake)

# One folder of sources, tests apart.
macro(stanch_sources result folder)
  file(GLOB_RECURSE ${result} CONFIGURE_DEPENDS ${folder}/*.cpp)
  list(FILTER ${result} EXCLUDE REGEX "_test\\.cpp$")
endmacro()

stanch_sources(cli_sources cli)
if(cli_sources)
  find_package(fmt REQUIRED)
  add_executable(stanch ${cli_sources})
  target_include_directories(stanch PRIVATE ${CMAKE_SOURCE_DIR})
  target_link_libraries(stanch PRIVATE stanch_core fmt::fmt-header-only)
  stanch_embed(stanch ${CMAKE_SOURCE_DIR}/i18n/en.json messages_en)
  if(NOT STANCH_SANITIZE)
    target_link_options(stanch PRIVATE -static-libstdc++ -static-libgcc)
  endif()
endif()

if(STANCH_TESTS)
  find_package(GTest REQUIRED)
  find_library(STANCH_MPFR mpfr REQUIRED)  # the tests compare the elementary functions with it
  enable_testing()

  file(GLOB_RECURSE core_tests CONFIGURE_DEPENDS core/stanch/*_test.cpp checks/*.cpp)
  set(property_tests ${core_tests})
  list(FILTER core_tests EXCLUDE REGEX "_property_test\\.cpp$")
  list(FILTER property_tests INCLUDE REGEX "_property_test\\.cpp$")
  list(APPEND core_tests tools/mutate/sites_test.cpp tools/mutate/sites.cpp)

  add_executable(core_tests ${core_tests})
  target_include_directories(core_tests PRIVATE ${CMAKE_SOURCE_DIR})
  target_link_libraries(core_tests PRIVATE stanch_core GTest::gtest_main ${STANCH_MPFR})
  add_test(NAME core_tests COMMAND core_tests WORKING_DIRECTORY ${CMAKE_SOURCE_DIR})

  if(property_tests)
    find_library(STANCH_RAPIDCHECK rapidcheck REQUIRED)
    file(GLOB property_support CONFIGURE_DEPENDS tests/support/*.cpp)
    add_executable(property_tests ${property_tests} ${property_support})
    target_include_directories(property_tests PRIVATE ${CMAKE_SOURCE_DIR})
    target_link_libraries(property_tests PRIVATE stanch_core ${STANCH_RAPIDCHECK} GTest::gtest_main)
    add_test(NAME property_tests COMMAND property_tests WORKING_DIRECTORY ${CMAKE_SOURCE_DIR})
  endif()

  if(NOT STANCH_SANITIZE)
    add_executable(check_layers tools/check_layers.cpp)
    add_executable(check_messages tools/check_messages.cpp)
    target_link_libraries(check_messages PRIVATE stanch_core)
    add_executable(mutate tools/mutate/main.cpp tools/mutate/sites.cpp tools/mutate/workshop.cpp)
    target_include_directories(mutate PRIVATE ${CMAKE_SOURCE_DIR})
  endif()
endif()

if(STANCH_BENCH)
  find_package(benchmark REQUIRED)
  file(GLOB_RECURSE bench_sources CONFIGURE_DEPENDS bench/*.cpp)
  list(FILTER bench_sources EXCLUDE REGEX "/wasm_bench\\.cpp$")
  if(bench_sources)
    add_executable(stanch_bench ${bench_sources})
    target_include_directories(stanch_bench PRIVATE ${CMAKE_SOURCE_DIR})
    target_link_libraries(stanch_bench PRIVATE stanch_core benchmark::benchmark_main)
  endif()
endif()
