// tools/mutate/planted.hpp
//
// What woven sources call (weave.hpp): whether a mistake is on, and the operators that may be another. Reading that is
// no constant, so what has to be known at compile time does not compile with a mistake in it and is told apart.
#pragma once

#include <concepts>
#include <cstdint>
#include <utility>

namespace stanch::planted {

inline constexpr int most = 20000;  ///< mistakes in one build

enum Seen : std::uint8_t { unseen, seen, seen_impossible };  ///< impossible: it would not compile

/// The number of the mistake that is on; 0 when none is. Before `main` it comes from the variable STANCH_PLANTED.
extern int active;
/// By number.
extern Seen seen_of[most];

int active_before_main();

inline bool hit(int number) {
  if (active < 0) active = active_before_main();
  seen_of[number] = seen;
  return number == active;
}

constexpr bool on(int number) { return number < 0 ? false : hit(number); }

// An operator that another one replaces when the mistake is on, where that compiles and gives the same type.
#define STANCH_PLANTED_PAIR(name, right, wrong)                                                            \
  template <class L, class R>                                                                              \
  constexpr auto name(int number, L&& l, R&& r) -> decltype(std::forward<L>(l) right std::forward<R>(r)) { \
    if constexpr (requires {                                                                               \
                    { l wrong r } -> std::same_as<decltype(l right r)>;                                    \
                  }) {                                                                                     \
      if (on(number)) return std::forward<L>(l) wrong std::forward<R>(r);                                  \
    } else if (number > 0) {                                                                               \
      seen_of[number] = seen_impossible;                                                                   \
    }                                                                                                      \
    return std::forward<L>(l) right std::forward<R>(r);                                                    \
  }

STANCH_PLANTED_PAIR(less, <, <=)
STANCH_PLANTED_PAIR(less_equal, <=, <)
STANCH_PLANTED_PAIR(greater, >, >=)
STANCH_PLANTED_PAIR(greater_equal, >=, >)
STANCH_PLANTED_PAIR(equal, ==, !=)
STANCH_PLANTED_PAIR(not_equal, !=, ==)
STANCH_PLANTED_PAIR(plus, +, -)
STANCH_PLANTED_PAIR(minus, -, +)
STANCH_PLANTED_PAIR(add, +=, -=)
STANCH_PLANTED_PAIR(subtract, -=, +=)

template <class T>
constexpr auto negation(int number, T&& value) {
  using Answer = decltype(!std::forward<T>(value));
  return on(number) ? static_cast<Answer>(value) : !std::forward<T>(value);
}

// And and or: of truth values the second is asked only when needed; other types have operators of their own.
#define STANCH_PLANTED_LOGIC(name, right, wrong, goes_on)                                 \
  template <class L, class R>                                                             \
  constexpr auto name(int number, L&& l, R&& r) {                                         \
    using Answer = decltype(l right r());                                                 \
    if constexpr (std::same_as<Answer, bool>) {                                           \
      if (static_cast<bool>(l) == (on(number) != goes_on)) return static_cast<bool>(r()); \
      return static_cast<bool>(l);                                                        \
    } else {                                                                              \
      if (on(number)) return l wrong r();                                                 \
      return l right r();                                                                 \
    }                                                                                     \
  }

STANCH_PLANTED_LOGIC(both, &&, ||, true)
STANCH_PLANTED_LOGIC(either, ||, &&, false)

#undef STANCH_PLANTED_LOGIC
#undef STANCH_PLANTED_PAIR

}  // namespace stanch::planted
