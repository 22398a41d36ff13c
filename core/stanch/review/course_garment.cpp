// When each segment of the garment was closed and open.
#include <array>
#include <nlohmann/json.hpp>
#include <optional>
#include <string_view>

#include "stanch/review/course.hpp"

namespace stanch::review {
namespace {

namespace key = protocol::key;
using care::GarmentState;
using record::Segment;

/// "open" as soon as one panel of it is; nothing when there is no garment on her or it was never closed.
std::string_view state_of(const GarmentState& garment, Segment segment) {
  if (!garment.on()) return "";
  if (garment.any_open(segment)) return "open";
  return garment.holds(segment) ? "on" : "";
}

/// The state of one segment over time, one span a state.
class Spans {
 public:
  explicit Spans(const Axis& axis) : axis_(&axis) {}

  void become(std::string_view state, Moment at) {
    if (state == state_) return;
    if (!state_.empty()) {
      spans_.back()["until"] = to_text(at);
      spans_.back()["until_min"] = axis_->minute(at);
    }
    if (!state.empty()) spans_.push_back(Json{{"at", to_text(at)}, {"min", axis_->minute(at)}, {"state", state}});
    state_ = state;
  }
  Json take() { return std::move(spans_); }

 private:
  const Axis* axis_;
  std::string_view state_;
  Json spans_ = Json::array();
};

}  // namespace

Json course_garment(const care::View& view, const Axis& axis) {
  std::vector<Spans> spans(care::n_segments, Spans(axis));
  Json waits = Json::array();
  for (const auto& fact : view.all<record::Garment>()) {
    const GarmentState garment = care::garment_state(view.at(fact.at));
    for (std::size_t s = 0; s < care::n_segments; ++s)
      spans[s].become(state_of(garment, static_cast<Segment>(s)), fact.at);
    if (fact.what.action != record::GarmentAction::open || !care::to_take_off(fact.what.reason)) continue;
    const bool last = garment.all_open();
    const Duration wait = view.protocol().minutes(last ? key::unwrap_final_wait : key::unwrap_wait);
    const Moment ends = fact.at + wait;
    if (!waits.empty() && waits.back()["at"] == to_text(ends)) continue;  // left and right at once
    waits.push_back(Json{{"at", to_text(ends)},
                         {"min", axis.minute(ends)},
                         {"opened_min", axis.minute(fact.at)},
                         {"wait_min", wait.in_minutes()},
                         {"final", last}});
  }
  Json segments = Json::array();
  for (std::size_t s = 0; s < care::n_segments; ++s)
    segments.push_back(Json{{"id", record::words<Segment>[s]}, {"spans", spans[s].take()}});
  return Json{{"segments", std::move(segments)}, {"waits", std::move(waits)}};
}

}  // namespace stanch::review
