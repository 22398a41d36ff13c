#include "stanch/care/verdict.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <nlohmann/json.hpp>
#include <utility>

namespace stanch::care {

std::string_view word(Permission permission) {
  constexpr std::array<std::string_view, 5> words{"allowed", "warned", "needs_override", "needs_senior", "never"};
  return words[static_cast<std::size_t>(permission)];
}

void Verdict::stop(Permission level, Reason reason) {
  if (level > permission) {
    permission = level;
    reasons.insert(reasons.begin(), std::move(reason));
  } else {
    reasons.push_back(std::move(reason));
  }
}

namespace {

bool covers(std::string_view asked, std::string_view question) {
  return asked == question || (asked == "take_vitals" && (question == "take_pulse" || question == "take_bp"));
}

}  // namespace

void ask_once(std::vector<std::string>& asked, std::string_view question) {
  if (std::any_of(asked.begin(), asked.end(), [&](const std::string& one) { return covers(one, question); })) return;
  asked.erase(std::remove_if(asked.begin(), asked.end(), [&](const std::string& one) { return covers(question, one); }),
              asked.end());
  asked.emplace_back(question);
}

void Verdict::ask_for(std::string_view question) { ask_once(ask, question); }

Json to_json(const Verdict& verdict, const protocol::Protocol& protocol) {
  Json out{{"permission", word(verdict.permission)},
           {"reasons", to_json(verdict.reasons, protocol)},
           {"second_person", verdict.second_person},
           {"ask", verdict.ask}};
  if (verdict.allowed_at) out["allowed_at"] = to_text(*verdict.allowed_at);
  return out;
}

}  // namespace stanch::care
