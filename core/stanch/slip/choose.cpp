#include "stanch/slip/choose.hpp"

#include <algorithm>
#include <cstddef>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <string>

namespace stanch::slip {
namespace {

using record::EntryPtr;
using record::Kind;

constexpr std::size_t newest_vitals = 12;

std::string member_text(const EntryPtr& e, const char* name) {
  const auto it = e->whole->find(name);
  return it == e->whole->end() ? std::string() : canonical_text(*it);
}

/// Placing and opening are judged by the reading before them.
bool changes_pressure(const EntryPtr& garment) {
  const std::string action = member_text(garment, "action");
  return action == "\"placed\"" || action == "\"open\"" || action == "\"off\"";
}

/// The vitals that the rules compare others with, and the newest. `effective` is in folding order.
std::set<Id> landmarks_of(const std::vector<EntryPtr>& effective) {
  std::set<Id> out;
  std::vector<EntryPtr> vitals;
  for (const EntryPtr& e : effective) {
    if (e->kind == Kind::vitals) vitals.push_back(e);
    if (e->kind == Kind::garment && !vitals.empty() && changes_pressure(e)) out.insert(vitals.back()->id);
  }
  if (vitals.empty()) return out;
  out.insert(vitals.front()->id);
  for (std::size_t i = vitals.size() - std::min(vitals.size(), newest_vitals); i < vitals.size(); ++i)
    out.insert(vitals[i]->id);
  const auto extreme = [&](const char* sign, bool highest) {
    EntryPtr found;
    double best = 0;
    for (const EntryPtr& e : vitals) {
      const auto it = e->whole->find(sign);
      if (it == e->whole->end() || !it->is_number()) continue;
      const double value = highest ? it->get<double>() : -it->get<double>();
      if (found && value <= best) continue;
      found = e;
      best = value;
    }
    if (found) out.insert(found->id);
  };
  extreme("sbp", false);
  extreme("pulse", true);
  return out;
}

/// What an entry is about, when what it says may be said again; empty for what adds up.
std::string subject_of(const EntryPtr& e) {
  switch (e->kind) {
    case Kind::call:
      return "call " + member_text(e, "who");
    case Kind::finding:
      return "finding " + member_text(e, "what");
    case Kind::manoeuvre:
      return "manoeuvre " + member_text(e, "what");
    case Kind::garment:
      return "garment " + member_text(e, "segment") + member_text(e, "side");
    case Kind::loss:
      return e->whole->contains("level_ml") ? "loss " + member_text(e, "method") : std::string();
    default:
      return {};
  }
}

/// What it says about it. A level in a container that isn't emptied only grows: each reading stands for those before.
std::string said_by(const EntryPtr& e) {
  std::string out;
  for (const char* field :
       {"value", "state", "done", "ml", "action", "tension", "reason", "emptied", "baseline", "mixed_with", "other_ml"})
    out += member_text(e, field) + ";";
  return out;
}

/// Entries between two others of the same subject that say the same: the ends stay, so that when something began and
/// when it was last so are still known.
std::set<Id> told_again(const std::vector<EntryPtr>& effective) {
  std::map<std::string, std::vector<EntryPtr>> subjects;
  for (const EntryPtr& e : effective)
    if (const std::string subject = subject_of(e); !subject.empty()) subjects[subject].push_back(e);
  std::set<Id> out;
  for (const auto& [subject, told] : subjects)
    for (std::size_t i = 1; i + 1 < told.size(); ++i)
      if (said_by(told[i]) == said_by(told[i - 1]) && said_by(told[i]) == said_by(told[i + 1])) out.insert(told[i]->id);
  return out;
}

Step step_of(const EntryPtr& e, bool is_landmark, bool is_told_again) {
  switch (e->kind) {
    case Kind::advice_shown:
    case Kind::advice_declined:
      return Step::advice;
    case Kind::vitals:
      if (is_landmark) return Step::other;
      return member_text(e, "source") == "\"monitor\"" ? Step::monitor_vitals : Step::vitals;
    case Kind::finding:
    case Kind::call:
    case Kind::manoeuvre:
      return is_told_again ? Step::told_again : Step::other;
    case Kind::garment:
    case Kind::loss:
      return is_told_again ? Step::told_again : Step::totals;
    case Kind::urine:
    case Kind::lab:
    case Kind::claim:
      return Step::other;
    default:
      return Step::totals;
  }
}

}  // namespace

std::vector<Leaving> leaving_order(const record::Case& entries) {
  const std::vector<EntryPtr> effective = entries.in_effect();
  const std::set<Id> landmarks = landmarks_of(effective);
  const std::set<Id> again = told_again(effective);
  std::vector<Leaving> out;
  for (const EntryPtr& e : entries.all()) {
    if (entries.is_struck(e->id))
      out.push_back({e, Step::struck});
    else if (!e->strikes && e->kind != Kind::opened)
      out.push_back({e, step_of(e, landmarks.contains(e->id), again.contains(e->id))});
  }
  std::stable_sort(out.begin(), out.end(), [](const Leaving& a, const Leaving& b) { return a.step < b.step; });
  return out;
}

}  // namespace stanch::slip
