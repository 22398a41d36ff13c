# Native targets: the unit tests beside the core, and the command line.
find_package(GTest REQUIRED)
enable_testing()
file(GLOB_RECURSE core_tests CONFIGURE_DEPENDS core/stanch/*_test.cpp)
add_executable(core_tests ${core_tests})
target_link_libraries(core_tests PRIVATE stanch_core GTest::gtest_main)
add_test(NAME core_tests COMMAND core_tests)
