// core/stanch/care/advice_json.cpp
//
// The answer as JSON, the contract of every host. docs/formats/advice.md describes it.
#include <nlohmann/json.hpp>
#include <variant>

#include "stanch/care/advise.hpp"
#include "stanch/care/urgency.hpp"

namespace stanch::care {
namespace {

Json to_json(const std::vector<Argument>& arguments) {
  Json out = Json::object();
  for (const Argument& argument : arguments)
    std::visit([&](const auto& value) { out[argument.name] = value; }, argument.value);
  return out;
}

Json to_json(const Due& due, const protocol::Protocol& protocol) {
  Json out{{"id", due.id},
           {"priority", word(due.priority)},
           {"standing", word(due.standing)},
           {"reasons", to_json(due.reasons, protocol)}};
  if (!due.about.empty()) out["about"] = due.about;
  if (due.due_at) out["due_at"] = to_text(*due.due_at);
  if (due.late_at) out["late_at"] = to_text(*due.late_at);
  if (due.since) out["since"] = to_text(*due.since);
  if (!due.arguments.empty()) out["arguments"] = to_json(due.arguments);
  return out;
}

Json to_json(const Guard& guard, const protocol::Protocol& protocol) {
  Json out = to_json(guard.verdict, protocol);
  out["act"] = guard.act;
  if (!guard.about.empty()) out["about"] = guard.about;
  return out;
}

Json to_json(const Watch& watch, const protocol::Protocol& protocol) {
  Json out{{"id", watch.id}, {"reasons", to_json(watch.reasons, protocol)}};
  if (!watch.about.empty()) out["about"] = watch.about;
  if (watch.limit) {
    out["limit"] = *watch.limit;
    out["crossed"] = protocol::sign(watch.crossed);
    out["unit"] = watch.unit;
  }
  if (watch.by) out["by"] = to_text(*watch.by);
  return out;
}

Json to_json(const Notice& notice, const protocol::Protocol& protocol) {
  Json out{{"id", notice.id}, {"priority", word(notice.priority)}, {"reasons", to_json(notice.reasons, protocol)}};
  if (!notice.about.empty()) out["about"] = notice.about;
  return out;
}

template <class Item>
Json list(const std::vector<Item>& items, const protocol::Protocol& protocol) {
  Json out = Json::array();
  for (const Item& item : items) out.push_back(to_json(item, protocol));
  return out;
}

Json protocol_stamp(const protocol::Protocol& protocol) {
  Json out{
      {"name", protocol.name()}, {"version", protocol.version()}, {"hash", protocol.hash()}, {"approved", nullptr}};
  if (protocol.approval())
    out["approved"] =
        Json{{"by", protocol.approval()->by}, {"role", protocol.approval()->role}, {"on", protocol.approval()->on}};
  return out;
}

}  // namespace

Json to_json(const Advice& advice, const Picture& picture, const View& view) {
  const protocol::Protocol& protocol = view.protocol();
  Json unknown = Json::array();
  for (const Unknown& item : advice.unknown) unknown.push_back(Json{{"id", item.id}, {"rules", item.rules}});
  Json out{{"format", "stanch.advice/1"},
           {"now", to_text(advice.now)},
           {"protocol", protocol_stamp(protocol)},
           {"phase", advice.phase},
           {"urgency", to_json(urgency_of(advice))},
           {"known", to_json(picture, view)},
           {"due", list(advice.due, protocol)},
           {"guards", list(advice.guards, protocol)},
           {"watch", list(advice.watch, protocol)},
           {"unknown", std::move(unknown)},
           {"notices", list(advice.notices, protocol)}};
  if (advice.next_change) out["next_change"] = to_text(*advice.next_change);
  return out;
}

}  // namespace stanch::care
