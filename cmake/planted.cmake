# The program that tools/mutate runs: the tests, with the core's sources that hold planted mistakes (in the folder
# STANCH_PLANTED) in place of their originals.
set(sources_with_mistakes)
foreach(source IN LISTS core_sources)
  file(RELATIVE_PATH relative ${CMAKE_SOURCE_DIR} ${source})
  if(EXISTS ${STANCH_PLANTED}/${relative})
    list(REMOVE_ITEM core_sources ${source})
    list(APPEND sources_with_mistakes ${STANCH_PLANTED}/${relative})
  endif()
endforeach()
# Optimised lightly: it is compiled once and run thousands of times.
set_source_files_properties(${sources_with_mistakes} PROPERTIES COMPILE_OPTIONS
  "-O1;-w;-I${CMAKE_SOURCE_DIR};-include;${CMAKE_SOURCE_DIR}/tools/mutate/planted.hpp")
set_property(TARGET stanch_core PROPERTY SOURCES ${core_sources} ${STANCH_GENERATED_SOURCES} ${sources_with_mistakes}
                                                 tools/mutate/planted.cpp)
target_include_directories(stanch_core PRIVATE ${CMAKE_SOURCE_DIR})

add_executable(trial tools/mutate/trial.cpp tools/mutate/text_case_tests.cpp
                     $<TARGET_OBJECTS:core_tests> $<TARGET_OBJECTS:property_tests>)
target_include_directories(trial PRIVATE ${CMAKE_SOURCE_DIR})
target_link_libraries(trial PRIVATE stanch_core stanch_text GTest::gtest ${STANCH_MPFR} ${STANCH_RAPIDCHECK})
