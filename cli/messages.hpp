// cli/messages.hpp
//
// Words for people: message ids of the core to English sentences, from i18n/en.json (ICU MessageFormat with plain
// {name} arguments). An id without a message is shown as its own words, never dropped.
#pragma once

#include <map>
#include <string>
#include <string_view>

namespace stanch::cli {

using Arguments = std::map<std::string, std::string, std::less<>>;

/// The message of `group.id`, its arguments filled in. An argument that is a message id of its own ("drug.oxytocin",
/// looked up as `name.oxytocin`) is shown by its name.
[[nodiscard]] std::string message(std::string_view group, std::string_view id, const Arguments& arguments = {});

/// True when the catalogue has this message.
[[nodiscard]] bool has_message(std::string_view group, std::string_view id);

/// The name of a thing: a drug, segment, place ... ("name.belly_ball"), or its id with spaces.
[[nodiscard]] std::string name_of(std::string_view id);

}  // namespace stanch::cli
