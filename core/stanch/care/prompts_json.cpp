#include <nlohmann/json.hpp>

#include "stanch/care/prompts.hpp"

namespace stanch::care {

Json to_json(const PromptState& state) {
  Json told = Json::array();
  for (const Told& one : state.told) told.push_back(Json{{"role", one.role}, {"at", to_text(one.at)}});
  Json out{{"shown", state.shown},
           {"raised", state.raised},
           {"latched", state.latched},
           {"raised_at", to_text(state.raised_at)},
           {"told", std::move(told)}};
  if (!state.seen_by.empty()) out["seen_by"] = state.seen_by;
  if (!state.held_back_for.empty()) out["held_back_for"] = state.held_back_for;
  if (state.next) out["next"] = to_text(*state.next);
  return out;
}

}  // namespace stanch::care
