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

/// The message of `group.id`, its {arguments} filled in; the id as words when there is none.
[[nodiscard]] std::string message(std::string_view group, std::string_view id, const Arguments& arguments = {});

/// True when the catalogue has this message.
[[nodiscard]] bool has_message(std::string_view group, std::string_view id);

/// The name of a thing: a drug, segment, place ... ("name.belly_ball"), or its id with spaces. Understands what the
/// core puts together: "belly_close+belly_ball", "usual>raised", "allergy:oxytocin", "facility:fennel_row".
[[nodiscard]] std::string name_of(std::string_view id);

/// A word that means another thing in another context: "name.surgery.closed" before "name.closed".
[[nodiscard]] std::string name_in(std::string_view context, std::string_view id);

/// Ids apart by spaces, in their order: "calf panels, ankle panels".
[[nodiscard]] std::string list_of(std::string_view ids, std::string_view separator);

}  // namespace stanch::cli
