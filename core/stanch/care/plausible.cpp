#include "stanch/care/plausible.hpp"

#include <array>
#include <string>
#include <utility>
#include <variant>

namespace stanch::care {
namespace {

namespace key = protocol::key;

class Doubts {
 public:
  Doubts(const View& view, const Woman& woman, const record::Entry& proposed, Verdict& out)
      : view_(view), woman_(woman), proposed_(proposed), protocol_(view.protocol()), out_(out) {}

  void check() {
    check_time();
    std::visit([this](const auto& payload) { check_payload(payload); }, proposed_.payload);
  }

 private:
  template <class T>
  void check_payload(const T&) {}

  void check_payload(const record::Opened& o) {
    number("age_y", o.age_y, key::plausible_age_y_warn_low, key::plausible_age_y_warn_high);
    number("weight_kg", o.weight_kg, key::plausible_weight_kg_warn_low, key::plausible_weight_kg_warn_high);
    number("height_cm", o.height_cm, key::plausible_height_cm_warn_low, key::plausible_height_cm_warn_high);
    number("gravida", o.gravida, key::plausible_gravida_warn_low, key::plausible_gravida_warn_high);
    number("para", o.para, key::plausible_para_warn_low, key::plausible_para_warn_high);
    number("gestation_wk", o.gestation_wk, key::plausible_gestation_wk_warn_low, key::plausible_gestation_wk_warn_high);
    number("hb_gl", o.hb_gl, key::plausible_hb_gl_warn_low, key::plausible_hb_gl_warn_high);
  }

  void check_payload(const record::Vitals& v) {
    number("pulse", count_of(v.pulse), key::plausible_pulse_warn_low, key::plausible_pulse_warn_high);
    number("sbp", count_of(v.sbp), key::plausible_sbp_warn_low, key::plausible_sbp_warn_high);
    number("dbp", v.dbp ? std::optional(v.dbp->count()) : std::nullopt, key::plausible_dbp_warn_low,
           key::plausible_dbp_warn_high);
    number("rr", v.rr, key::plausible_rr_warn_low, key::plausible_rr_warn_high);
    number("spo2", v.spo2, key::plausible_spo2_warn_low, key::plausible_spo2_warn_high);
    number("temp_c", v.temp_c, key::plausible_temp_c_warn_low, key::plausible_temp_c_warn_high);
    number("cap_refill_s", v.cap_refill_s, key::plausible_cap_refill_s_warn_low, key::plausible_cap_refill_s_warn_high);
    check_swapped(v);
  }

  void check_payload(const record::Loss& l) {
    number("level_ml", step_of(l), key::plausible_loss_ml_warn_low, key::plausible_loss_ml_warn_high);
    number("amount_ml", l.amount_ml, key::plausible_loss_ml_warn_low, key::plausible_loss_ml_warn_high);
    number("wet_g", l.wet_g, key::plausible_loss_g_warn_low, key::plausible_loss_g_warn_high);
    number("dry_g", l.dry_g, key::plausible_loss_g_warn_low, key::plausible_loss_g_warn_high);
    number("other_ml", l.other_ml, key::plausible_loss_other_ml_warn_low, key::plausible_loss_other_ml_warn_high);
  }

  void check_payload(const record::Urine& u) {
    number("amount_ml", u.amount_ml, key::plausible_urine_ml_warn_low, key::plausible_urine_ml_warn_high);
    number("level_ml", u.level_ml, key::plausible_urine_ml_warn_low, key::plausible_urine_ml_warn_high);
  }

  void check_payload(const record::Lab& l) {
    number("hb_gl", l.hb_gl, key::plausible_hb_gl_warn_low, key::plausible_hb_gl_warn_high);
    number("hct_percent", l.hct_percent, key::plausible_hct_percent_warn_low, key::plausible_hct_percent_warn_high);
    number("platelets", l.platelets, key::plausible_platelets_warn_low, key::plausible_platelets_warn_high);
    number("fibrinogen_gl", l.fibrinogen_gl, key::plausible_fibrinogen_gl_warn_low,
           key::plausible_fibrinogen_gl_warn_high);
    number("inr", l.inr, key::plausible_inr_warn_low, key::plausible_inr_warn_high);
    number("pt_ratio", l.pt_ratio, key::plausible_pt_ratio_warn_low, key::plausible_pt_ratio_warn_high);
    number("aptt_ratio", l.aptt_ratio, key::plausible_aptt_ratio_warn_low, key::plausible_aptt_ratio_warn_high);
    number("lactate", l.lactate, key::plausible_lactate_warn_low, key::plausible_lactate_warn_high);
    number("ica", l.ica, key::plausible_ica_warn_low, key::plausible_ica_warn_high);
    number("ph", l.ph, key::plausible_ph_warn_low, key::plausible_ph_warn_high);
    number("clot_test_min", l.clot_test_min ? l.clot_test_min->minutes : std::nullopt,
           key::plausible_clot_test_min_warn_low, key::plausible_clot_test_min_warn_high);
  }

  void check_payload(const record::Drug& d) {
    if (!d.infusion) return;
    number("infusion.ml", std::optional(d.infusion->ml), key::plausible_infusion_ml_warn_low,
           key::plausible_infusion_ml_warn_high);
    if (d.infusion->over_min > 0)  // 0: how long it runs was not told
      number("infusion.over_min", std::optional(d.infusion->over_min), key::plausible_infusion_over_min_warn_low,
             key::plausible_infusion_over_min_warn_high);
  }

  void check_payload(const record::Fluid& f) {
    number("ml", f.ml, key::plausible_fluid_ml_warn_low, key::plausible_fluid_ml_warn_high);
  }

  void check_payload(const record::Blood& b) {
    number("units", b.units, key::plausible_blood_units_warn_low, key::plausible_blood_units_warn_high);
    number("ml", b.ml, key::plausible_blood_ml_warn_low, key::plausible_blood_ml_warn_high);
    number("g", b.g, key::plausible_blood_g_warn_low, key::plausible_blood_g_warn_high);
  }

  void check_payload(const record::Manoeuvre& m) {
    number("ml", m.ml, key::plausible_manoeuvre_ml_warn_low, key::plausible_manoeuvre_ml_warn_high);
    constexpr std::array after_birth{std::string_view("placenta_removed"), std::string_view("manual_removal"),
                                     std::string_view("bimanual"), std::string_view("balloon_in"),
                                     std::string_view("compression_suture")};
    for (const std::string_view what : after_birth)
      if (m.what == what) check_after_birth(m.what);
  }

  void check_payload(const record::Finding& f) {
    if (f.what == "placenta" && f.value != "in") check_after_birth("placenta");
  }

  // ---- Doubts
  // --------------------------------------------------------------------------------------------------------

  Reason doubt(std::string_view id, std::string_view rule, std::string_view about) const {
    Reason out;
    out.id = id;
    out.rule = rule;
    out.about = about;
    return out;
  }

  template <class T>
  void number(std::string_view field, const std::optional<T>& value, protocol::Key low, protocol::Key high) {
    if (!value) return;
    const auto seen = static_cast<double>(*value);
    for (const protocol::Key limit : {low, high}) {
      if (!protocol_.met(limit, seen)) continue;
      Reason reason = doubt("unlikely", "PL-1", field);
      reason.limit = limit;
      reason.seen = seen;
      out_.stop(Permission::warned, std::move(reason));
    }
  }

  template <class Q>
  static std::optional<int> count_of(const std::optional<record::Sought<Q>>& sought) {
    if (!sought || sought->unrecordable()) return std::nullopt;
    return sought->value->count();
  }

  // How much a container rose since it was last read; the whole reading when it is new or was emptied.
  std::optional<double> step_of(const record::Loss& loss) const {
    if (!loss.level_ml) return std::nullopt;
    const auto* before = view_.last_where<record::Loss>(
        [&](const record::Loss& l) { return l.method == loss.method && (l.level_ml || l.emptied); });
    const bool same_container = before != nullptr && !before->what.emptied;
    const double last = same_container ? before->what.level_ml.value_or(0) : 0;
    return *loss.level_ml >= last ? *loss.level_ml - last : *loss.level_ml;
  }

  void check_swapped(const record::Vitals& v) {
    const auto pulse = count_of(v.pulse);
    const auto sbp = count_of(v.sbp);
    const auto* before = view_.last_where<record::Vitals>([](const record::Vitals& w) { return w.pulse && w.sbp; });
    if (!pulse || !sbp || before == nullptr || *pulse == *sbp) return;
    if (count_of(before->what.pulse) != sbp || count_of(before->what.sbp) != pulse) return;
    Reason reason = doubt("swapped", "PL-4", "pulse");
    reason.seen = *pulse;
    reason.at = before->at;
    out_.stop(Permission::warned, std::move(reason));
  }

  void check_time() {
    const Moment at = proposed_.happened();
    Reason reason = doubt("in_future", "PL-5", "at");
    reason.limit = key::plausible_future;
    reason.seen = (at - view_.now()).in_minutes();
    reason.at = at;
    if (protocol_.met(key::plausible_future, *reason.seen)) {
      out_.stop(Permission::never, std::move(reason));
      return;
    }
    const auto opened = view_.all<record::Opened>();
    if (opened.empty()) return;
    Reason long_before = doubt("long_before_opened", "PL-5", "at");
    long_before.limit = key::plausible_before_opened;
    long_before.seen = (opened.front().at - at).in_hours();
    long_before.at = at;
    if (protocol_.met(key::plausible_before_opened, *long_before.seen))
      out_.stop(Permission::warned, std::move(long_before));
  }

  void check_after_birth(std::string_view about) {
    const bool before = woman_.born() == Tri::no || (woman_.birth_at && *woman_.birth_at > proposed_.happened());
    if (before) out_.stop(Permission::warned, doubt("before_birth", "PL-6", about));
  }

  const View& view_;
  const Woman& woman_;
  const record::Entry& proposed_;
  const protocol::Protocol& protocol_;
  Verdict& out_;
};

}  // namespace

void check_plausible(const View& view, const Woman& woman, const record::Entry& proposed, Verdict& out) {
  Doubts(view, woman, proposed, out).check();
}

std::string_view word(Likelihood likelihood) {
  constexpr std::array<std::string_view, 3> words{"likely", "unlikely", "impossible"};
  return words[static_cast<std::size_t>(likelihood)];
}

std::optional<FieldJudgement> judge_field(std::string_view field, double value, const protocol::Protocol& protocol) {
  struct Limit {
    const char* name;
    Likelihood likelihood;
    const char* rule;
  };
  constexpr std::array limits{
      Limit{".refuse_low", Likelihood::impossible, "PL-2"}, Limit{".refuse_high", Likelihood::impossible, "PL-2"},
      Limit{".warn_low", Likelihood::unlikely, "PL-1"}, Limit{".warn_high", Likelihood::unlikely, "PL-1"}};
  FieldJudgement out;
  for (const Limit& limit : limits) {
    const auto row = protocol.find("plausible." + std::string(field) + limit.name);
    if (!row) return std::nullopt;
    if (out.reason || !protocol.met(*row, value)) continue;
    Reason reason;
    reason.id = word(limit.likelihood);
    reason.rule = limit.rule;
    reason.limit = row;
    reason.seen = value;
    reason.about = field;
    out = {limit.likelihood, std::move(reason)};
  }
  return out;
}

}  // namespace stanch::care
