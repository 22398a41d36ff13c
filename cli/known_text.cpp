#include "cli/known_text.hpp"

#include <fmt/format.h>

#include <array>
#include <utility>
#include <vector>

#include "cli/advice_text.hpp"
#include "cli/figures.hpp"
#include "cli/messages.hpp"
#include "cli/terminal.hpp"

namespace stanch::cli {
namespace {

using care::Picture;
using care::Tri;
using care::View;

/// The lines under KNOWN. A line with nothing to say is left out.
class Known {
 public:
  Known(const Picture& picture, const View& view, const Clock& clock)
      : picture_(picture), view_(view), clock_(clock), now_(view.now()) {}

  std::string text() {
    line("what", what());
    line("loss", loss());
    line("signs", signs());
    line("bleeding", bleeding());
    line("womb", womb());
    line("placenta", placenta());
    line("causes", causes());
    line("given", given());
    line("fluids", fluids());
    line("blood", blood());
    line("tests", tests());
    line("garment", garment());
    line("where", where());
    line("cautions", cautions());
    return std::move(out_);
  }

 private:
  void line(std::string_view name, const std::string& text) {
    if (!text.empty()) out_ += fmt::format("  {:<9} {}\n", message("known", name), wrapped(text, 12));
  }

  std::string dated(const std::string& text, Moment at) const {
    return text + ", " + message("known", "ago", {{"age", duration_text(now_ - at)}});
  }

  std::string clock_text(Moment at) const { return clock_.text(at, now_); }

  static void add(std::string& out, const std::string& text, const char* separator = ", ") {
    if (text.empty()) return;
    if (!out.empty()) out += separator;
    out += text;
  }

  std::string what() const {
    const care::Recognition& found = picture_.recognition;
    if (found.label == care::BleedLabel::none) return {};
    const std::string label = name_of(care::word(found.label));
    return found.t0 ? message("known", "label", {{"label", label}, {"time", clock_text(*found.t0)}}) : label;
  }

  std::string loss() const {
    const care::MeasuredLoss& loss = picture_.loss;
    if (!loss.total_ml) return {};
    std::string out = figure(*loss.total_ml, "mL", 0);
    if (const std::string methods = loss_methods(); !methods.empty()) out += " (" + methods + ")";
    if (!loss.points.empty()) out = dated(out, loss.points.back().at);
    const auto lost = care::percent_lost(loss.total_ml, picture_.blood_volume);
    if (lost && *loss.total_ml > 0)
      add(out,
          message(
              "known", "share",
              {{"percent", figure(lost->percent, 0)}, {"low", figure(lost->low, 0)}, {"high", figure(lost->high, 0)}}),
          "; ");
    if (loss.mostly_estimated()) {
      const care::LikelyLoss likely = care::likely_loss(loss, view_.protocol());
      add(out,
          message("known", "likely_loss", {{"low", figure(likely.low_ml, 0)}, {"high", figure(likely.high_ml, 0)}}),
          "; ");
    }
    return out;
  }

  // One method by its name, several with what each gave.
  std::string loss_methods() const {
    const care::MeasuredLoss& loss = picture_.loss;
    std::string out;
    for (std::size_t i = 0; i < loss.by_method_ml.size(); ++i) {
      if (loss.by_method_ml[i] <= 0) continue;
      const std::string name = name_of(record::word(static_cast<record::LossMethod>(i)));
      if (loss.by_method_ml[i] == *loss.total_ml) return name;
      add(out, name + " " + figure(loss.by_method_ml[i], 0));
    }
    return out;
  }

  template <class Q>
  static std::string sought(const record::Sought<Q>& value) {
    return value.value ? figure(value.value->count()) : name_of("unrecordable");
  }

  using Said = std::vector<std::pair<std::string, Moment>>;

  static std::string sign(std::string_view field, const std::string& value) {
    return message("field", field, {{"number", value}, {"value", value}});
  }

  // Pulse, pressure and what they make.
  void say_circulation(Said& said) const {
    const care::Signs& s = picture_.signs;
    if (s.pulse) said.emplace_back(sign("pulse", sought(s.pulse->value)), s.pulse->at);
    if (s.sbp && s.dbp && s.sbp->at == s.dbp->at && s.sbp->value.value)
      said.emplace_back(message("field", "bp", {{"sbp", sought(s.sbp->value)}, {"dbp", figure(s.dbp->value.count())}}),
                        s.sbp->at);
    else if (s.sbp)
      said.emplace_back(sign("sbp", sought(s.sbp->value)), s.sbp->at);
    const care::ShockIndex& shock = picture_.shock_index;
    if (shock.band && shock.at)
      said.emplace_back(message("known", "shock_index",
                                {{"index", shock.index ? fmt::format("{:.2f}", *shock.index) : name_of("unrecordable")},
                                 {"band", name_of(care::word(*shock.band))}}),
                        *shock.at);
  }

  void say_others(Said& said) const {
    const care::Signs& s = picture_.signs;
    if (s.rr) said.emplace_back(sign("rr", figure(s.rr->value)), s.rr->at);
    if (s.spo2) said.emplace_back(sign("spo2", figure(s.spo2->value, "percent")), s.spo2->at);
    if (s.temp_c) said.emplace_back(sign("temp_c", figure(s.temp_c->value, "C")), s.temp_c->at);
    if (s.cap_refill_s) said.emplace_back(sign("cap_refill_s", figure(s.cap_refill_s->value, "s")), s.cap_refill_s->at);
    if (s.avpu) said.emplace_back(name_in("vitals", record::word(s.avpu->value)), s.avpu->at);
  }

  // Each sign with its age; signs of one set share it.
  std::string signs() const {
    Said said;
    say_circulation(said);
    say_others(said);
    std::string out;
    for (std::size_t i = 0; i < said.size(); ++i) {
      const auto& [text, at] = said[i];
      const bool last_of_age = i + 1 == said.size() || said[i + 1].second != at;
      const bool new_age = i > 0 && said[i - 1].second != at;
      add(out, last_of_age ? dated(text, at) : text, new_age ? "; " : ", ");
    }
    return out;
  }

  const care::Fact<record::Finding>* finding(std::string_view what) const {
    return view_.last_where<record::Finding>([&](const record::Finding& f) { return f.what == what; });
  }

  std::string bleeding() const {
    const auto& at = picture_.bleeding.at;
    if (!at) return {};
    const auto* seen = finding("bleeding");
    if (seen != nullptr && seen->at == *at) return dated(name_in("finding", seen->what.value), *at);
    return dated(message("known", picture_.bleeding.ongoing == Tri::no ? "stopped" : "going_on"), *at);
  }

  std::string womb() const {
    const auto* tone = finding("tone");
    return tone == nullptr ? "" : dated(name_in("finding", tone->what.value), tone->at);
  }

  std::string placenta() const {
    const auto& placenta = picture_.woman.placenta;
    return placenta && *placenta != record::Placenta::out_complete ? name_in("opened", record::word(*placenta)) : "";
  }

  std::string causes() const {
    if (picture_.severity.triggered != Tri::yes) return {};
    std::string out;
    for (const care::Cause& cause : picture_.causes.causes)
      add(out, name_of(care::word(cause.kind)) + " " + name_in("cause", care::word(cause.state)));
    return out;
  }

  std::string given() const {
    std::string out;
    for (const care::DrugDoses& drug : picture_.doses.drugs) add(out, drug_text(drug), "; ");
    return out;
  }

  // "oxytocin 30 international units in 2 doses, last at 08:16, running"
  std::string drug_text(const care::DrugDoses& drug) const {
    double total = 0;
    bool complete = true;
    for (const care::Dose& dose : drug.doses) {
      total += dose.amount.value_or(0);
      complete = complete && dose.amount.has_value();
    }
    std::string out = name_of(drug.drug);
    if (total > 0)
      out += " " + message("known", complete ? "amount" : "at_least",
                           {{"amount", figure(total, drug.row != nullptr ? drug.row->unit : "")}});
    const std::string time = clock_text(drug.doses.back().at);
    if (drug.doses.size() == 1)
      out += " " + message("known", "at", {{"time", time}});
    else
      out +=
          " " + message("known", "doses", {{"count", figure(static_cast<double>(drug.doses.size()))}, {"time", time}});
    if (picture_.doses.running(drug.drug)) out += ", " + message("known", "running");
    return out;
  }

  std::string fluids() const {
    const care::FluidsIn& in = picture_.fluids.in;
    std::string out;
    if (in.clear_ml() > 0) add(out, message("known", "clear_fluid", {{"ml", figure(in.clear_ml(), 0)}}));
    if (in.hanging_ml > 0) add(out, message("known", "hanging", {{"ml", figure(in.hanging_ml, 0)}}));
    if (picture_.fluids.urine_ml) add(out, message("known", "urine", {{"ml", figure(*picture_.fluids.urine_ml, 0)}}));
    return out;
  }

  std::string blood() const {
    const care::ProductsGiven& given = picture_.transfusion.given;
    const std::array<std::pair<const char*, double>, 5> units{{{"whole_blood", given.whole_blood},
                                                               {"red_cells", given.red_cells - given.whole_blood},
                                                               {"plasma", given.plasma - given.whole_blood},
                                                               {"platelets", given.platelets},
                                                               {"cryo", given.cryo}}};
    std::string out;
    for (const auto& [product, count] : units)
      if (count > 0) add(out, name_of(product) + " " + figure(count, "units", 1));
    if (given.fibrinogen_g > 0) add(out, name_of("fibrinogen") + " " + figure(given.fibrinogen_g, "g"));
    return out;
  }

  std::string tests() const {
    Said said;
    for (const care::Target& target : picture_.blood_targets.targets)
      if (target.id != "temp")
        said.emplace_back(message("known", std::string("test_").append(target.id), {{"value", figure(target.value)}}),
                          target.at);
    std::string out;
    for (std::size_t i = 0; i < said.size(); ++i) {
      const bool last_of_age = i + 1 == said.size() || said[i + 1].second != said[i].second;
      add(out, last_of_age ? dated(said[i].first, said[i].second) : said[i].first);
    }
    return out;
  }

  std::string garment() const {
    const care::GarmentState& garment = picture_.garment;
    if (!garment.on())
      return garment.off_at ? message("known", "garment_off", {{"time", clock_text(*garment.off_at)}}) : "";
    std::string out =
        message("known", "garment_on",
                {{"time", clock_text(*garment.placed_at)}, {"worn", duration_text(now_ - *garment.placed_at)}});
    if (garment.complete()) return out + ", " + message("known", "all_closed");
    const std::array<std::pair<care::PanelState, const char*>, 3> states{
        {{care::PanelState::open, "open"},
         {care::PanelState::loose, "loose"},
         {care::PanelState::not_closed, "not_closed"}}};
    for (const auto& [state, id] : states)
      if (const std::string panels = panels_in(state); !panels.empty())
        add(out, message("known", id, {{"panels", panels}}), "; ");
    return out;
  }

  std::string panels_in(care::PanelState state) const {
    const care::GarmentState& garment = picture_.garment;
    std::string out;
    for (std::size_t i = 0; i < care::n_panels; ++i) {
      const care::Panel& panel = care::all_panels[i];
      if (!garment.used(i) || garment.panels[i].state != state) continue;
      if (panel.side == record::Side::both) {
        add(out, name_of(panel_name(panel)));
        continue;
      }
      // Left and right stand side by side; where both are alike they are one word.
      const bool left = panel.side == record::Side::left;
      const bool alike = garment.panels[left ? i + 1 : i - 1].state == state;
      if (!alike || left) add(out, name_of(alike ? std::string(record::word(panel.segment)) : panel_name(panel)));
    }
    return out;
  }

  std::string where() const {
    if (picture_.place.where.empty()) return {};
    std::string out = name_in("place", picture_.place.where);
    if (picture_.place.on_the_road() && picture_.place.where != "ambulance")
      out = message("known", "on_the_road", {{"where", out}});
    return out + ", " + message("known", "since", {{"age", duration_text(now_ - picture_.place.since)}});
  }

  std::string cautions() const {
    std::string out;
    if (picture_.woman.cautions)
      for (const std::string& caution : *picture_.woman.cautions) add(out, name_of(caution));
    return out;
  }

  const Picture& picture_;
  const View& view_;
  const Clock& clock_;
  Moment now_;
  std::string out_;
};

std::string who_text(const care::Woman& woman, Moment now, const Clock& clock) {
  std::string out = woman.label.empty() ? message("known", "no_label") : woman.label;
  if (woman.birth_at)
    out += ", " + message("known", woman.birth_estimated ? "birth_estimated" : "birth",
                          {{"time", clock.text(*woman.birth_at, now)}, {"age", duration_text(now - *woman.birth_at)}});
  if (woman.birth_mode) out += ", " + name_of(record::word(*woman.birth_mode));
  return out;
}

}  // namespace

std::string known_text(const care::Advice& advice, const care::Picture& picture, const care::View& view,
                       const Clock& clock) {
  const Moment now = view.now();
  std::string out = strong(clock.full_text(now) + "  " + who_text(picture.woman, now, clock)) + "\n";
  out += quiet(message("known", "protocol", {{"protocol", protocol_text(view.protocol())}})) + "\n";
  if (!advice.phase.empty()) out += message("known", "phase", {{"phase", message("phase", advice.phase)}}) + "\n";
  const std::string known = Known(picture, view, clock).text();
  if (!known.empty()) out += "\n" + strong(message("known", "title")) + "\n" + known;
  return out;
}

}  // namespace stanch::cli
