#include "stanch/care/panels.hpp"

#include <algorithm>

namespace stanch::care {

using record::Segment;
using record::Side;

std::string panel_name(const Panel& panel) {
  std::string out(record::word(panel.segment));
  if (panel.side != Side::both) out.append("_").append(record::word(panel.side));
  return out;
}

std::vector<Segment> segments_in(const protocol::Protocol& protocol, protocol::Key list) {
  std::vector<Segment> out;
  for (const std::string& word : protocol.words(list))
    if (const auto segment = record::from_word<Segment>(word)) out.push_back(*segment);
  return out;
}

Segments segment_set(const protocol::Protocol& protocol, protocol::Key list) {
  Segments out;
  for (const Segment segment : segments_in(protocol, list)) out.add(segment);
  return out;
}

std::vector<Segment> closing_order(const protocol::Protocol& protocol) {
  return segments_in(protocol, protocol::key::wrap_order);
}

std::vector<Segments> opening_steps(const protocol::Protocol& protocol, bool ankle_folded) {
  const Segments together = segment_set(protocol, protocol::key::unwrap_open_together);
  std::vector<Segments> out;
  bool together_taken = false;
  for (const Segment segment : segments_in(protocol, protocol::key::unwrap_order)) {
    if (segment == Segment::ankle && ankle_folded) continue;
    if (!together.has(segment)) {
      out.push_back({segment});
    } else if (!together_taken) {
      out.push_back(together);
      together_taken = true;
    }
  }
  return out;
}

Segment lowest_of(Segments segments) {
  for (std::size_t i = 0; i < n_segments; ++i)
    if (const auto segment = static_cast<Segment>(i); segments.has(segment)) return segment;
  return Segment::ankle;
}

std::string step_name(Segments step, const protocol::Protocol& protocol) {
  std::string out;
  for (const Segment segment : segments_in(protocol, protocol::key::unwrap_order)) {
    if (!step.has(segment)) continue;
    if (!out.empty()) out += '+';
    out += record::word(segment);
  }
  return out;
}

}  // namespace stanch::care
