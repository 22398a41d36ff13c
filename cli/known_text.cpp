#include "cli/known_text.hpp"

#include <fmt/format.h>

#include "cli/advice_text.hpp"
#include "cli/figures.hpp"
#include "cli/messages.hpp"
#include "cli/terminal.hpp"

namespace stanch::cli {
namespace {

std::string age(Moment seen, Moment now) { return duration_text(now - seen) + " ago"; }

std::string who_text(const care::Woman& woman, Moment now, const Clock& clock) {
  std::string out = woman.label.empty() ? "No name or bed" : woman.label;
  if (woman.birth_at)
    out += fmt::format(", birth {} ({}{} ago)", clock.text(*woman.birth_at, now),
                       woman.birth_estimated ? "estimated, " : "", duration_text(now - *woman.birth_at));
  if (woman.birth_mode) out += ", " + name_of(record::word(*woman.birth_mode));
  return out;
}

void line(std::string& out, std::string_view name, const std::string& text) {
  if (!text.empty()) out += fmt::format("  {:<9}{}\n", name, wrapped(text, 11));
}

}  // namespace

std::string known_text(const care::Advice& advice, const care::Picture& picture, const care::View& view,
                       const Clock& clock) {
  const Moment now = view.now();
  std::string out = strong(clock.full_text(now) + "  " + who_text(picture.woman, now, clock)) + "\n";
  out += quiet("Protocol: " + protocol_text(view.protocol())) + "\n";
  if (!advice.phase.empty()) out += "Phase: " + message("phase", advice.phase) + "\n";
  out += "\n" + strong("KNOWN") + "\n";
  line(out, "where",
       picture.place.where.empty() ? "" : name_of(picture.place.where) + " since " + age(picture.place.since, now));
  return out;
}

}  // namespace stanch::cli
