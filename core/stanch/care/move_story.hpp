// core/stanch/care/move_story.hpp
//
// The story that goes with a woman who is moved, as rows in one fixed order: who, cause, loss, now, given, garment,
// done, clocks, ask, gaps. Short rows carry the figures; below them stands every entry they were made from, so that no
// row of the record can change without the story changing. The words are the hosts'.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "stanch/base/id.hpp"
#include "stanch/base/json.hpp"
#include "stanch/care/picture.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

/// One line: which message, and the figures it needs.
struct StoryRow {
  std::string id;     ///< "loss_total", "drug_total_at_least", "next_vitals" ...
  std::string about;  ///< drug, cause, sign ...
  std::string word{};
  std::optional<double> value{};
  std::string unit{};
  std::optional<int> count{};
  std::optional<Moment> at{};  ///< of what was seen or given; of a clock: when it strikes
};

struct StoryPart {
  std::string id;
  std::vector<StoryRow> rows;
  std::vector<Id> entries;  ///< what the rows were made from, oldest first
};

/// The way she goes, as far as anybody told.
struct Journey {
  std::string to;  ///< empty: not told
  std::optional<double> minutes;
  std::optional<Moment> left_at;
  std::optional<Moment> arrival_at;  ///< left, and the told travel time on top
  std::optional<Moment> called_at;   ///< the receiving hospital
  std::string answered_by;
  std::optional<Moment> answered_at;
  Tri accepted = Tri::unknown;
  std::optional<Moment> accepted_at;
};

struct PackItem {
  std::string id;  ///< of handover.before_leaving
  bool confirmed = false;
};

struct MoveStory {
  std::vector<StoryPart> parts;
  Journey journey;
  std::vector<PackItem> pack;
  std::string garment_id;
  std::string garment_home;  ///< where the garment she wears was put on, so where it goes back to; empty: not told
};

/// Everything that was told of the case, but for sets of vital signs before the last twelve, under its heading.
/// Source: what a hand-over holds: SBAR (Shah et al. 2016); clocks, and that the garment goes back where it was put on:
/// common practice, no source.  [HO-1] [HO-5] [HO-6] [HO-8]
[[nodiscard]] MoveStory move_story(const View& view, const Picture& picture);

/// {"format": "stanch.story/1", "parts": [{"id", "rows", "entries"}], "journey", "pack", "garment"};
/// docs/formats/story.md.
[[nodiscard]] Json to_json(const MoveStory& story, const View& view);

}  // namespace stanch::care
