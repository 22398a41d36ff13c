// core/stanch/care/panels.hpp
//
// The panels of the garment: six segments, of which those on the legs come in pairs, so nine panels. Here they are
// counted and put in order; which are closed is in garment_state.hpp.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/protocol/protocol.hpp"
#include "stanch/record/words.hpp"

namespace stanch::care {

inline constexpr std::size_t n_segments = 6;
inline constexpr std::size_t n_panels = 9;

/// One panel; `side` is left or right on the legs, both elsewhere.
struct Panel {
  record::Segment segment;
  record::Side side;
};

/// Every panel, in the order of words<Segment>, left before right.
inline constexpr std::array<Panel, n_panels> all_panels{{{record::Segment::ankle, record::Side::left},
                                                         {record::Segment::ankle, record::Side::right},
                                                         {record::Segment::calf, record::Side::left},
                                                         {record::Segment::calf, record::Side::right},
                                                         {record::Segment::thigh, record::Side::left},
                                                         {record::Segment::thigh, record::Side::right},
                                                         {record::Segment::pelvis, record::Side::both},
                                                         {record::Segment::belly_ball, record::Side::both},
                                                         {record::Segment::belly_close, record::Side::both}}};

[[nodiscard]] constexpr bool on_leg(record::Segment segment) { return segment <= record::Segment::thigh; }

/// "calf_left", "pelvis".
[[nodiscard]] std::string panel_name(const Panel& panel);

/// A set of segments.
class Segments {
 public:
  constexpr Segments() = default;
  constexpr Segments(std::initializer_list<record::Segment> list) {
    for (const record::Segment s : list) add(s);
  }
  static constexpr Segments all() { return Segments(0x3f); }

  constexpr void add(record::Segment s) { bits_ = static_cast<std::uint8_t>(bits_ | (1U << index(s))); }
  constexpr void add(Segments others) { bits_ = static_cast<std::uint8_t>(bits_ | others.bits_); }
  [[nodiscard]] constexpr bool has(record::Segment s) const { return ((bits_ >> index(s)) & 1U) != 0; }
  [[nodiscard]] constexpr bool empty() const { return bits_ == 0; }
  /// Is every one of these in the other set?
  [[nodiscard]] constexpr bool within(Segments other) const { return (bits_ & ~other.bits_) == 0; }
  friend constexpr bool operator==(Segments, Segments) = default;

 private:
  explicit constexpr Segments(std::uint8_t bits) : bits_(bits) {}
  static constexpr unsigned index(record::Segment s) { return static_cast<unsigned>(s); }
  std::uint8_t bits_ = 0;
};

/// The segments a protocol list names, in its order; unknown words are passed over.
[[nodiscard]] std::vector<record::Segment> segments_in(const protocol::Protocol& protocol, protocol::Key list);
[[nodiscard]] Segments segment_set(const protocol::Protocol& protocol, protocol::Key list);

/// The order in which panels close, from the ankles up.  [GF-8]
[[nodiscard]] std::vector<record::Segment> closing_order(const protocol::Protocol& protocol);

/// The openings of an unwrapping, each one segment or the segments that open as one.  [GR-8]
[[nodiscard]] std::vector<Segments> opening_steps(const protocol::Protocol& protocol, bool ankle_folded);

/// The first segment of a step in closing order, by which the step is named.
[[nodiscard]] record::Segment lowest_of(Segments segments);

/// "belly_close+belly_ball": how a step is named in messages.
[[nodiscard]] std::string step_name(Segments step, const protocol::Protocol& protocol);

}  // namespace stanch::care
