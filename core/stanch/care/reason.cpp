#include "stanch/care/reason.hpp"

#include <array>
#include <cstddef>
#include <nlohmann/json.hpp>

namespace stanch::care {

std::string_view word(Tri tri) {
  constexpr std::array<std::string_view, 3> words{"no", "yes", "unknown"};
  return words[static_cast<std::size_t>(tri)];
}

Json to_json(const Reason& reason, const protocol::Protocol& protocol) {
  Json out{{"id", reason.id}, {"rule", reason.rule}};
  if (!reason.about.empty()) out["about"] = reason.about;
  if (reason.seen) out["seen"] = *reason.seen;
  if (reason.at) out["at"] = to_text(*reason.at);
  if (reason.limit) {
    const protocol::Value& limit = protocol.value(*reason.limit);
    Json& row = out["limit"] = Json{
        {"id", limit.id}, {"unit", limit.unit}, {"source", limit.source}, {"status", protocol::word(limit.status)}};
    if (limit.is_word)
      row["value"] = limit.word;
    else if (!limit.is_list())
      row["value"] = limit.number;
    if (limit.comparator != protocol::Comparator::none) row["compare"] = protocol::sign(limit.comparator);
  }
  return out;
}

Json to_json(const std::vector<Reason>& reasons, const protocol::Protocol& protocol) {
  Json out = Json::array();
  for (const Reason& reason : reasons) out.push_back(to_json(reason, protocol));
  return out;
}

}  // namespace stanch::care
