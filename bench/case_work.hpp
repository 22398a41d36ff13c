// bench/case_work.hpp
//
// What is timed, the same natively and in WebAssembly. Each function does the whole work once and answers a number that
// depends on the result, so that no compiler can leave the work out.
#pragma once

#include <cstddef>
#include <string>

#include "bench/long_case.hpp"
#include "stanch/care/state.hpp"

namespace stanch::bench {

class CaseWork {
 public:
  /// @param n  entries; all parsing is done here, outside what is timed
  explicit CaseWork(std::size_t n);

  /// Entries to state, all at once.
  [[nodiscard]] std::size_t fold() const;
  /// The whole advice of the folded case.
  [[nodiscard]] std::size_t advise() const;
  /// The advice and its JSON text, as a host shows it.
  [[nodiscard]] std::size_t advise_in_json() const;
  [[nodiscard]] std::size_t fold_and_advise() const;
  /// A request with the whole case as JSON text, answered as a host gets it.
  [[nodiscard]] std::size_t answer_request() const;
  /// Every line of the case file to an entry of the record.
  [[nodiscard]] std::size_t read_file() const;
  /// The yardstick: nlohmann-json alone parses the same lines.
  [[nodiscard]] std::size_t parse_json_lines() const;

  /// One more entry, different each time. `begin_taking` puts the state back to n entries; `late` entries happened half
  /// way through the case.
  void begin_taking();
  [[nodiscard]] std::size_t take(bool late);
  [[nodiscard]] std::size_t take_and_advise();

 private:
  [[nodiscard]] record::Entry next_entry(bool late);

  LongCase case_;
  care::State state_;
  care::State grown_;
  std::string request_;
  std::size_t n_taken_ = 0;
};

}  // namespace stanch::bench
