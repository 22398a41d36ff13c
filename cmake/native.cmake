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

# The ward server. Asio and Beast are compiled once, in server/http/beast_src.cpp.
find_package(fmt REQUIRED)
find_package(Threads REQUIRED)
find_library(STANCH_SSL NAMES libssl.a ssl REQUIRED)
find_library(STANCH_CRYPTO NAMES libcrypto.a crypto REQUIRED)
find_library(STANCH_QR NAMES libqrcodegencpp.a qrcodegencpp REQUIRED)
find_library(STANCH_SQLITE NAMES libsqlite3.a sqlite3 REQUIRED)
stanch_sources(server_sources server)
add_library(stanch_server OBJECT ${server_sources})
target_include_directories(stanch_server PUBLIC ${CMAKE_SOURCE_DIR})
target_compile_definitions(stanch_server PUBLIC
  BOOST_ASIO_SEPARATE_COMPILATION BOOST_BEAST_SEPARATE_COMPILATION BOOST_ASIO_NO_DEPRECATED
  # clang 22 doesn't tell Asio 1.74 by itself that it has coroutines
  $<$<CXX_COMPILER_ID:Clang>:BOOST_ASIO_HAS_CO_AWAIT=1 BOOST_ASIO_HAS_STD_COROUTINE=1>)
target_compile_definitions(stanch_server PRIVATE STANCH_VERSION="${PROJECT_VERSION}")
target_link_libraries(stanch_server PUBLIC stanch_core fmt::fmt-header-only ${STANCH_SQLITE} ${STANCH_SSL} ${STANCH_CRYPTO}
                                           ${STANCH_QR} Threads::Threads ${CMAKE_DL_LIBS})
stanch_embed(stanch_server ${CMAKE_SOURCE_DIR}/server/store/sql/001_create_record.sql create_record_sql)
stanch_embed(stanch_server ${CMAKE_SOURCE_DIR}/server/store/sql/002_count_versions.sql count_versions_sql)
stanch_embed(stanch_server ${CMAKE_SOURCE_DIR}/server/store/sql/003_add_hub.sql add_hub_sql)
stanch_embed(stanch_server ${CMAKE_SOURCE_DIR}/server/tls/trust.html trust_page)
stanch_embed(stanch_server ${CMAKE_SOURCE_DIR}/demo/practice.ndjson demo_practice)
stanch_embed(stanch_server ${CMAKE_SOURCE_DIR}/demo/atony-answers.ndjson demo_atony_answers)
include(cmake/web.cmake)

stanch_sources(cli_sources cli)
if(cli_sources)
  # What the command says and reads, apart from its subcommands: tests hold its words to approved texts.
  set(text_sources ${cli_sources})
  list(FILTER text_sources EXCLUDE REGEX "(_command|/main)\\.cpp$")
  list(REMOVE_ITEM cli_sources ${text_sources})
  add_library(stanch_text OBJECT ${text_sources})
  target_include_directories(stanch_text PUBLIC ${CMAKE_SOURCE_DIR})
  target_link_libraries(stanch_text PUBLIC stanch_core fmt::fmt-header-only ${STANCH_CRYPTO} ${STANCH_QR} ${CMAKE_DL_LIBS})
  foreach(language en es fr)
    stanch_embed(stanch_text ${CMAKE_SOURCE_DIR}/i18n/${language}.json messages_${language})
  endforeach()

  add_executable(stanch ${cli_sources})
  target_link_libraries(stanch PRIVATE stanch_core stanch_server stanch_text)
  stanch_web_assets(stanch "${STANCH_WEB}")
  include(cmake/package.cmake)
  if(NOT STANCH_SANITIZE)
    target_link_options(stanch PRIVATE -static-libstdc++ -static-libgcc)
  endif()
endif()

if(STANCH_TESTS)
  find_package(GTest REQUIRED)
  find_library(STANCH_MPFR mpfr REQUIRED)  # the tests compare the elementary functions with it
  find_library(STANCH_ZLIB z REQUIRED)     # and the compression of slips with this one
  enable_testing()

  file(GLOB_RECURSE core_tests CONFIGURE_DEPENDS core/stanch/*_test.cpp checks/*.cpp
       tests/approved/*_test.cpp tests/body/*_test.cpp)
  set(property_tests ${core_tests})
  list(FILTER core_tests EXCLUDE REGEX "_property_test\\.cpp$")
  list(FILTER property_tests INCLUDE REGEX "_property_test\\.cpp$")
  set(mutate_sources tools/mutate/sites.cpp tools/mutate/tokens.cpp tools/mutate/operands.cpp tools/mutate/weave.cpp)
  list(APPEND core_tests tools/mutate/sites_test.cpp tools/mutate/weave_test.cpp ${mutate_sources})

  # Women made up for judging the physiology model, and the long run that prints how it does on them.
  add_library(body_truth OBJECT tests/body/truth.cpp tests/body/study.cpp)
  target_include_directories(body_truth PUBLIC ${CMAKE_SOURCE_DIR})
  target_link_libraries(body_truth PUBLIC stanch_core)
  add_executable(body_study EXCLUDE_FROM_ALL tests/body/study_main.cpp)
  target_link_libraries(body_study PRIVATE body_truth stanch_core Threads::Threads)

  add_executable(core_tests ${core_tests})
  target_include_directories(core_tests PRIVATE ${CMAKE_SOURCE_DIR})
  target_link_libraries(core_tests PRIVATE stanch_core body_truth stanch_text GTest::gtest_main ${STANCH_MPFR} ${STANCH_ZLIB})
  add_test(NAME core_tests COMMAND core_tests WORKING_DIRECTORY ${CMAKE_SOURCE_DIR})

  # The server's tests run the real one on a loopback port, with a small site of their own built in.
  file(GLOB server_tests CONFIGURE_DEPENDS tests/server/*.cpp)
  add_executable(server_tests ${server_tests})
  target_link_libraries(server_tests PRIVATE stanch_core stanch_server GTest::gtest_main)
  stanch_web_assets(server_tests ${CMAKE_SOURCE_DIR}/tests/server/site)
  add_test(NAME server_tests COMMAND server_tests WORKING_DIRECTORY ${CMAKE_SOURCE_DIR})
  add_executable(kill_loop tests/crash/kill_loop.cpp tests/server/client.cpp)
  target_include_directories(kill_loop PRIVATE ${CMAKE_SOURCE_DIR})
  target_link_libraries(kill_loop PRIVATE stanch_core Threads::Threads)

  # Many hosts, one record: made worlds over the server's own intake and exchange.
  add_executable(worlds tests/simulation/world_main.cpp tests/simulation/world.cpp tests/simulation/host.cpp
                        tests/support/random_case.cpp)
  target_link_libraries(worlds PRIVATE stanch_core stanch_server)
  stanch_web_assets(worlds ${CMAKE_SOURCE_DIR}/tests/server/site)

  add_executable(random_requests tests/support/random_requests.cpp tests/support/random_case.cpp)
  target_include_directories(random_requests PRIVATE ${CMAKE_SOURCE_DIR})
  target_link_libraries(random_requests PRIVATE stanch_core)

  if(property_tests)
    find_library(STANCH_RAPIDCHECK rapidcheck REQUIRED)
    set(property_support tests/support/random_case.cpp)
    add_executable(property_tests ${property_tests} ${property_support})
    target_include_directories(property_tests PRIVATE ${CMAKE_SOURCE_DIR})
    target_link_libraries(property_tests PRIVATE stanch_core ${STANCH_RAPIDCHECK} GTest::gtest_main)
    add_test(NAME property_tests COMMAND property_tests WORKING_DIRECTORY ${CMAKE_SOURCE_DIR})
  endif()

  if(STANCH_PLANTED)
    include(cmake/planted.cmake)
  endif()

  if(NOT STANCH_SANITIZE)
    add_executable(check_layers tools/check_layers.cpp)
    add_executable(check_messages tools/check_messages.cpp)
    target_link_libraries(check_messages PRIVATE stanch_core)
    add_executable(mutate tools/mutate/main.cpp tools/mutate/plant.cpp ${mutate_sources})
    target_include_directories(mutate PRIVATE ${CMAKE_SOURCE_DIR})
  endif()
endif()

if(STANCH_BENCH)
  find_package(benchmark REQUIRED)
  file(GLOB_RECURSE bench_sources CONFIGURE_DEPENDS bench/*.cpp)
  list(FILTER bench_sources EXCLUDE REGEX "/wasm_bench\\.cpp$|/bench/server/")
  if(bench_sources)
    add_executable(stanch_bench ${bench_sources})
    target_include_directories(stanch_bench PRIVATE ${CMAKE_SOURCE_DIR})
    target_link_libraries(stanch_bench PRIVATE stanch_core benchmark::benchmark_main)
  endif()
  foreach(server_bench intake live)
    add_executable(${server_bench} bench/server/${server_bench}.cpp bench/server/process.cpp tests/server/client.cpp)
    target_link_libraries(${server_bench} PRIVATE stanch_core stanch_server)
    stanch_web_assets(${server_bench} "")
  endforeach()
endif()
