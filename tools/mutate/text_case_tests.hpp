// tools/mutate/text_case_tests.hpp
//
// Each text case file of the protocol and of the demonstrations as a GoogleTest test, so that it runs in the same
// process as the unit tests.
#pragma once

namespace stanch::mutate {

void register_text_cases();

}  // namespace stanch::mutate
