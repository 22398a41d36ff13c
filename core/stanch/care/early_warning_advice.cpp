// What the early-warning chart says to the bedside, and when its answer changes by itself.
#include "stanch/care/early_warning.hpp"
#include "stanch/care/picture.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

// A sign counts by the tool once it has lasted: at that moment after any of its readings.
void wake_for_lasting(const View& view, AdviceBuilder& out) {
  if (view.protocol().word(key::early_warning_chart) != "tool_2016") return;
  const Duration lasting = view.protocol().minutes(key::early_warning_tool_lasting) + Duration::milliseconds(1);
  for (const auto& set : view.all<record::Vitals>()) out.wake_at(set.at + lasting);
}

}  // namespace

void advise_early_warning(const Picture& picture, const View& view, AdviceBuilder& out) {
  wake_for_lasting(view, out);
  if (picture.early_warning.trigger != Tri::yes || picture.severity.acute()) return;
  out.notice({"early_warning", "", Priority::medium, picture.early_warning.present});
}

}  // namespace stanch::care
