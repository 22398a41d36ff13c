#include "stanch/care/verdict.hpp"

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

Json to_json(const Verdict& verdict, const protocol::Protocol& protocol) {
  Json out{{"permission", word(verdict.permission)},
           {"reasons", to_json(verdict.reasons, protocol)},
           {"second_person", verdict.second_person},
           {"ask", verdict.ask}};
  if (verdict.allowed_at) out["allowed_at"] = to_text(*verdict.allowed_at);
  return out;
}

}  // namespace stanch::care
