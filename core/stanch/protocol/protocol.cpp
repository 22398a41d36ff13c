#include "stanch/protocol/protocol.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

namespace stanch::protocol {
namespace {

const Json no_rows = Json::array();

std::vector<std::pair<std::string_view, Key>> sorted_ids() {
  std::vector<std::pair<std::string_view, Key>> out;
  out.reserve(key_ids.size());
  for (std::size_t i = 0; i < key_ids.size(); ++i) out.emplace_back(key_ids[i], static_cast<Key>(i));
  std::sort(out.begin(), out.end());
  return out;
}

}  // namespace

std::optional<Key> Protocol::find(std::string_view id) const {
  static const auto ids = sorted_ids();
  const auto it =
      std::lower_bound(ids.begin(), ids.end(), id, [](const auto& row, std::string_view i) { return row.first < i; });
  return it != ids.end() && it->first == id ? std::optional(it->second) : std::nullopt;
}

const Drug* Protocol::drug(std::string_view id) const {
  const auto it = std::find_if(drugs_.begin(), drugs_.end(), [&](const Drug& d) { return d.id == id; });
  return it == drugs_.end() ? nullptr : &*it;
}

const Json& Protocol::table(std::string_view name) const {
  const auto it = tables_->find(name);
  return it == tables_->end() ? no_rows : *it;
}

const Json* Protocol::row(std::string_view table_name, std::string_view id) const {
  for (const Json& row : table(table_name))
    if (const auto it = row.find("id"); it != row.end() && it->is_string() && it->get_ref<const std::string&>() == id)
      return &row;
  return nullptr;
}

}  // namespace stanch::protocol
