#include "stanch/care/wrap.hpp"

#include <algorithm>
#include <array>

#include "stanch/care/ratio.hpp"

namespace stanch::care {
namespace {

using protocol::Key;
using record::CareLevel;
using record::Segment;
namespace key = protocol::key;

struct LevelKeys {
  Key loss;
  Key sbp;
  Key pulse;
};
constexpr LevelKeys primary_keys{key::wrap_primary_loss, key::wrap_primary_sbp, key::wrap_primary_pulse};
constexpr LevelKeys hospital_keys{key::wrap_hospital_loss, key::wrap_hospital_sbp, key::wrap_hospital_pulse};

class Judge {
 public:
  Judge(const WrapFindings& findings, const protocol::Protocol& protocol) : findings_(findings), protocol_(protocol) {}

  WrapIndication judge() {
    const LevelKeys& keys = findings_.level == CareLevel::primary ? primary_keys : hospital_keys;
    out_.loss = loss(keys.loss);
    out_.pressure = sign(findings_.sbp, keys.sbp, "pressure_low", "pressure_unrecordable", "take_bp");
    out_.pulse = sign(findings_.pulse, keys.pulse, "pulse_high", "pulse_unrecordable", "take_pulse");
    out_.far_and_shocked = far_and_shocked();
    out_.indicated = bleeding() && (enough_criteria() || out_.far_and_shocked);
    if (out_.indicated != Tri::unknown) out_.asked.clear();
    return std::move(out_);
  }

 private:
  void ask(std::string_view id) {
    if (std::find(out_.asked.begin(), out_.asked.end(), id) == out_.asked.end()) out_.asked.push_back(id);
  }

  void met(const char* id, std::optional<Key> limit, std::optional<double> seen) {
    out_.reasons.push_back({id, "GI-5", limit, seen, "", std::nullopt});
  }

  Tri bleeding() {
    if (findings_.bleeding == Tri::unknown) ask("ask_bleeding");
    return findings_.bleeding;
  }

  Tri loss(Key limit) {
    if (!findings_.loss_ml) {
      ask("measure_loss");
      return Tri::unknown;
    }
    if (!protocol_.met(limit, *findings_.loss_ml)) return Tri::no;
    met("loss_high", limit, findings_.loss_ml);
    return Tri::yes;
  }

  template <class Q>
  Tri sign(const std::optional<record::Sought<Q>>& sought, Key limit, const char* id, const char* not_found,
           std::string_view missing) {
    if (!sought) {
      ask(missing);
      return Tri::unknown;
    }
    if (sought->unrecordable()) {
      met(not_found, limit, std::nullopt);
      return Tri::yes;
    }
    if (!protocol_.met(limit, *sought->value)) return Tri::no;
    met(id, limit, sought->value->count());
    return Tri::yes;
  }

  // How many of the three are met: enough, too few even with those not known, or it depends.
  Tri enough_criteria() {
    int unknown = 0;
    for (const Tri one : {out_.loss, out_.pressure, out_.pulse}) {
      if (one == Tri::yes) ++out_.met;
      if (one == Tri::unknown) ++unknown;
    }
    if (protocol_.met(key::wrap_criteria_needed, out_.met)) return Tri::yes;
    return protocol_.met(key::wrap_criteria_needed, out_.met + unknown) ? Tri::unknown : Tri::no;
  }

  Tri far_and_shocked() {
    if (!protocol_.met(key::wrap_far_from_care, findings_.minutes_to_care)) return Tri::no;
    const Tri out = findings_.visible_bleeding && shocked();
    if (out == Tri::yes) met("shocked_far_from_care", key::wrap_shock_index, shown_index());
    if (findings_.visible_bleeding == Tri::unknown) ask("ask_bleeding");
    return out;
  }

  // A pulse or pressure sought and not found is beyond any index.
  Tri shocked() {
    const auto& pulse = findings_.pulse;
    const auto& sbp = findings_.sbp;
    if ((pulse && pulse->unrecordable()) || (sbp && sbp->unrecordable())) return Tri::yes;
    if (!pulse || !sbp) return Tri::unknown;
    return tri(ratio_met(protocol_, key::wrap_shock_index, pulse->value->count(), sbp->value->count()));
  }

  std::optional<double> shown_index() const {
    const auto& pulse = findings_.pulse;
    const auto& sbp = findings_.sbp;
    if (!pulse || !sbp || !pulse->value || !sbp->value || sbp->value->count() == 0) return std::nullopt;
    return static_cast<double>(pulse->value->count()) / sbp->value->count();
  }

  const WrapFindings& findings_;
  const protocol::Protocol& protocol_;
  WrapIndication out_;
};

}  // namespace

WrapIndication judge_wrap(const WrapFindings& findings, const protocol::Protocol& protocol) {
  return Judge(findings, protocol).judge();
}

Verdict wrap_exclusions(const Woman& woman, bool dying_otherwise, const protocol::Protocol& protocol) {
  Verdict out;
  if (!woman.cautions) {
    out.stop(Permission::warned, {"cautions_not_asked", "GC-4", key::wrap_ask_first});
    out.ask_for("ask_cautions");
    return out;
  }
  for (const std::string& caution : protocol.words(key::wrap_blocked_by))
    if (woman.has(caution) == Tri::yes)
      out.stop(Permission::needs_senior,
               {"garment_contraindicated", "GC-1", key::wrap_blocked_by, std::nullopt, caution});
  // A caution about the baby inside ends when the last baby is born.
  if (woman.born() != Tri::yes)
    for (const std::string& caution : protocol.words(key::wrap_blocked_unless_dying))
      if (woman.has(caution) == Tri::yes)
        out.stop(dying_otherwise ? Permission::warned : Permission::needs_override,
                 {"garment_only_if_she_would_die", "GC-1", key::wrap_blocked_unless_dying, std::nullopt, caution});
  for (const std::string& caution : protocol.words(key::wrap_cautioned_by))
    if (woman.has(caution) == Tri::yes)
      out.stop(Permission::warned, {"garment_caution", "GC-3", key::wrap_cautioned_by, std::nullopt, caution});
  return out;
}

bool would_die_otherwise(const View& view) {
  const auto* said =
      view.last_where<record::Finding>([](const record::Finding& f) { return f.what == "would_die_otherwise"; });
  return said != nullptr && said->what.value == "yes";
}

std::string_view word(ClosingPace pace) {
  constexpr std::array<std::string_view, 3> words{"target", "acceptable", "late"};
  return words[static_cast<std::size_t>(pace)];
}

ClosingPace closing_pace(Duration taken, const protocol::Protocol& protocol) {
  const double seconds = static_cast<double>(taken.ms()) / 1000.0;
  if (protocol.met(key::wrap_target_time, seconds)) return ClosingPace::target;
  return protocol.met(key::wrap_late_time, seconds) ? ClosingPace::late : ClosingPace::acceptable;
}

std::optional<Reason> too_many_hands(Segment segment, int people, const protocol::Protocol& protocol) {
  const Key limit = on_leg(segment) ? key::wrap_people_on_legs : key::wrap_people_on_body;
  if (!protocol.met(limit, people)) return std::nullopt;
  return Reason{on_leg(segment) ? "too_many_hands" : "one_person_only",
                "GF-9",
                limit,
                static_cast<double>(people),
                std::string(record::word(segment)),
                std::nullopt};
}

namespace {

// The lowest segment below this one that is not closed on its side.
std::optional<Segment> gap_below(const GarmentState& garment, const record::Garment& closing,
                                 const protocol::Protocol& protocol) {
  const record::Side side = on_leg(*closing.segment) ? closing.side : record::Side::both;
  for (const Segment lower : closing_order(protocol)) {
    if (lower == *closing.segment) return std::nullopt;
    if (!garment.holds(lower, side) && !(lower == Segment::ankle && closing.ankle_folded)) return lower;
  }
  return std::nullopt;
}

}  // namespace

Verdict may_close(const GarmentState& garment, const record::Garment& closing, const protocol::Protocol& protocol) {
  Verdict out;
  if (!closing.segment) return out;
  if (closing.people)
    if (auto reason = too_many_hands(*closing.segment, *closing.people, protocol))
      out.stop(Permission::needs_override, std::move(*reason));
  const auto gap = gap_below(garment, closing, protocol);
  if (!gap) return out;
  const std::string about(record::word(*gap));
  if (!garment.closed_first_at)
    out.stop(Permission::needs_override, {"segment_skipped", "GF-8", key::wrap_order, std::nullopt, about});
  else if (protocol.word(key::unwrap_reclose_order) == "lowest_first")
    // Closing again must not be held up by its order.
    out.stop(Permission::warned, {"lower_panel_still_open", "GR-12", key::unwrap_reclose_order, std::nullopt, about});
  return out;
}

}  // namespace stanch::care
