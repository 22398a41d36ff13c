// cli/advice_text.hpp
//
// One answer of the core as text for people: what is known, due, not to be done, watched and not known.
#pragma once

#include <string>
#include <vector>

#include "cli/clock.hpp"
#include "stanch/care/advise.hpp"

namespace stanch::cli {

/// The whole answer at one moment.
[[nodiscard]] std::string advice_text(const care::Advice& advice, const care::Picture& picture, const care::View& view,
                                      const Clock& clock, bool with_reasons);

/// "Give tranexamic acid 1 g ..." : one due row in words, without its clock.
[[nodiscard]] std::string due_text(const care::Due& due);
/// "late since 08:12", "due 08:20", "from 08:30".
[[nodiscard]] std::string standing_text(const care::Due& due, Moment now, const Clock& clock);
[[nodiscard]] std::string guard_text(const care::Guard& guard, Moment now, const Clock& clock);
[[nodiscard]] std::string watch_text(const care::Watch& watch, Moment now, const Clock& clock);
[[nodiscard]] std::string notice_text(const care::Notice& notice);
/// "pulse 108 /min; limit below 100 /min  [GR-4, read]".
[[nodiscard]] std::string reason_text(const care::Reason& reason, const protocol::Protocol& protocol, Moment now,
                                      const Clock& clock);

/// Which protocol judged: name, version, first digits of the hash, who approved it.
[[nodiscard]] std::string protocol_text(const protocol::Protocol& protocol);

}  // namespace stanch::cli
