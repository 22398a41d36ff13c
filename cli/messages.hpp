// cli/messages.hpp
//
// Words for people: message ids of the core to sentences of one language, from i18n/ (ICU MessageFormat with plain
// {name} arguments). What a language lacks is said in English, and an id without a message is shown as its own words,
// never dropped.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace stanch::cli {

using Arguments = std::map<std::string, std::string, std::less<>>;

/// Every language that there are words in: "en", "fr" ...
[[nodiscard]] const std::vector<std::string_view>& languages();

/// From here on `message` and the rest speak this language; false when there are no words in it. English until then.
bool speak(std::string_view code);

/// The language that the environment asks for: STANCH_LANG, or else LC_ALL, LC_MESSAGES or LANG ("fr_CA.UTF-8");
/// English when there are no words in that one.
[[nodiscard]] std::string_view language_of_environment();

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
