// Questions about passing a woman on.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/care/handover.hpp"

namespace stanch::ask {
namespace {

using protocol::Protocol;

Result<Json> handover_missing(Inputs& in, const Protocol& protocol) {
  care::KeptTimes times;
  times.birth = in.moment("birth_time");
  times.tranexamic = in.moment("txa1_start");
  times.uterotonic = in.moment("uterotonic_last");
  times.garment_on = in.moment("garment_on");
  times.garment_worn = in.flag("garment").value_or(times.garment_on.has_value());
  times.balloon_in = in.moment("balloon_in");
  times.balloon_present = in.flag("balloon").value_or(times.balloon_in.has_value());
  times.loss_ml = in.number("loss_at_departure");
  const bool read_back = in.flag("read_back").value_or(false);
  Json out{{"missing", Json::array()}, {"must_state", Json::array()}};
  for (const care::KeptItem& item :
       care::kept_items(times, in.words("none").value_or(std::vector<std::string>{}), protocol)) {
    if (item.kept == care::Kept::missing) out["missing"].push_back(item.id);
    if (item.id == "balloon_in" && item.kept != care::Kept::none) out["must_state"].push_back(item.id);
  }
  out["complete"] = out["missing"].empty() && read_back;
  return out;
}

Result<Json> handover_order(Inputs& in, const Protocol& protocol) {
  const auto style = in.word("style", {"sbar", "imist"});
  if (!style) return Json::object();
  Json order = Json::array();
  Json facts = Json::object();
  std::string text;
  for (const care::StorySection& section :
       care::story(*style == "sbar" ? care::StoryStyle::sbar : care::StoryStyle::imist, protocol)) {
    order.push_back(section.id);
    text += (text.empty() ? "" : ",") + section.id;
    if (!section.facts.empty()) facts[section.id] = section.facts;
  }
  return Json{{"order", std::move(order)}, {"text", std::move(text)}, {"facts", std::move(facts)}};
}

}  // namespace

void add_handover_topics(std::vector<Topic>& out) {
  out.push_back({.name = "handover_missing",
                 .summary = "Which of the times that must not be lost are missing from a hand-over?",
                 .inputs = {{"birth_time", "time", "birth"},
                            {"txa1_start", "time", "first tranexamic acid"},
                            {"uterotonic_last", "time", "last uterotonic"},
                            {"garment", "true or false", "does she wear a garment"},
                            {"garment_on", "time", "when it was put on"},
                            {"balloon", "true or false", "is a balloon in"},
                            {"balloon_in", "time", "when it went in"},
                            {"loss_at_departure", "mL", "total loss at departure"},
                            {"none", "words", "items said to be none"},
                            {"read_back", "true or false", "has the receiver read them back"}},
                 .outputs = "missing, must_state, complete",
                 .source = "common practice, no source",
                 .answer = handover_missing});
  out.push_back({.name = "handover_order",
                 .summary = "The order of a spoken hand-over, with its pauses.",
                 .inputs = {{"style", "word", "sbar or imist", true}},
                 .outputs = "order, text, facts",
                 .source = "Shah et al. 2016; Iedema et al. 2012",
                 .answer = handover_order});
}

}  // namespace stanch::ask
