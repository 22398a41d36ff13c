#include "cli/messages.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

namespace stanch::embedded {
std::string_view messages_en();
}

namespace stanch::cli {
namespace {

const nlohmann::json& catalogue() {
  static const nlohmann::json all = nlohmann::json::parse(embedded::messages_en());
  return all;
}

std::string spaced(std::string_view id) {
  std::string out(id);
  std::replace(out.begin(), out.end(), '_', ' ');
  return out;
}

std::string filled(std::string_view pattern, const Arguments& arguments) {
  std::string out;
  while (!pattern.empty()) {
    const auto open = pattern.find('{');
    out += pattern.substr(0, open);
    if (open == std::string_view::npos) break;
    const auto close = pattern.find('}', open);
    const auto argument = arguments.find(pattern.substr(open + 1, close - open - 1));
    if (argument != arguments.end()) out += argument->second;
    pattern.remove_prefix(close + 1);
  }
  return out;
}

const std::string* find(std::string_view group, std::string_view id) {
  const auto it = catalogue().find(std::string(group) + "." + std::string(id));
  return it == catalogue().end() ? nullptr : it->get_ptr<const std::string*>();
}

}  // namespace

std::string message(std::string_view group, std::string_view id, const Arguments& arguments) {
  const std::string* pattern = find(group, id);
  return pattern == nullptr ? spaced(id) : filled(*pattern, arguments);
}

bool has_message(std::string_view group, std::string_view id) { return find(group, id) != nullptr; }

std::string name_of(std::string_view id) {
  const std::string* name = find("name", id);
  return name == nullptr ? spaced(id) : *name;
}

}  // namespace stanch::cli
