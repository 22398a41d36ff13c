#include "stanch/care/causes.hpp"

#include <algorithm>
#include <string>

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Protocol;

constexpr std::array<std::string_view, 4> kind_words{"tone", "trauma", "tissue", "thrombin"};

bool is_one_of(std::string_view word, std::initializer_list<std::string_view> words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

const Fact<record::Finding>* last_finding(const View& view, std::string_view what) {
  return view.last_where<record::Finding>([&](const record::Finding& f) { return f.what == what; });
}

const Fact<record::Manoeuvre>* last_done(const View& view, std::initializer_list<std::string_view> what) {
  return view.last_where<record::Manoeuvre>(
      [&](const record::Manoeuvre& m) { return m.done && is_one_of(m.what, what); });
}

/// Something seen, by the words in use for "it is there".
bool says_present(const record::Finding& finding) {
  return is_one_of(finding.value, {"seen", "present", "found", "yes", "suspected"});
}

/// When it was seen, if none of the acts that end it was done since.
std::optional<Moment> open_finding(const View& view, std::string_view what,
                                   std::initializer_list<std::string_view> ended_by) {
  const auto* seen = last_finding(view, what);
  if (seen == nullptr || !says_present(seen->what)) return std::nullopt;
  const auto* ended = last_done(view, ended_by);
  return ended == nullptr || ended->at < seen->at ? std::optional(seen->at) : std::nullopt;
}

struct Said {
  CauseState state;
  Moment at;
};

std::optional<Said> said_of(const View& view, CauseKind kind) {
  const auto* said = last_finding(view, "cause_" + std::string(word(kind)));
  if (said == nullptr) return std::nullopt;
  for (const CauseState state : {CauseState::found, CauseState::treated, CauseState::excluded})
    if (said->what.value == word(state)) return Said{state, said->at};
  return std::nullopt;
}

CauseState state_of(const Cause& cause, const std::optional<Said>& said) {
  if (!said) return cause.signs.empty() ? CauseState::open : CauseState::suspected;
  const bool news = std::any_of(cause.signs.begin(), cause.signs.end(),
                                [&](const CauseSign& sign) { return sign.at && *sign.at > said->at; });
  return news && said->state != CauseState::found ? CauseState::suspected : said->state;
}

std::optional<Moment> soft_uterus_at(const View& view) {
  const auto* tone = last_finding(view, "tone");
  return tone != nullptr && tone->what.value == "soft" ? std::optional(tone->at) : std::nullopt;
}

// When the newest word about the placenta was said.
std::optional<Moment> placenta_said_at(const View& view) {
  std::optional<Moment> at;
  for (const auto& fact : view.all<record::Opened>())
    if (fact.what.placenta) at = fact.at;
  if (const auto* seen = last_finding(view, "placenta"); seen != nullptr && (!at || seen->at > *at)) at = seen->at;
  return at;
}

// Removal after the placenta was seen to be incomplete ends that.
std::optional<Moment> tissue_left(const View& view, const Woman& woman) {
  if (woman.placenta != record::Placenta::out_incomplete) return std::nullopt;
  const auto said = placenta_said_at(view);
  const auto* removed = last_done(view, {"manual_removal", "curettage", "vacuum_aspiration"});
  return removed != nullptr && said && removed->at >= *said ? std::nullopt : said;
}

void judge_retained(const View& view, const Woman& woman, Causes& out) {
  if (woman.placenta != record::Placenta::in || woman.born() == Tri::no) return;
  if (!woman.birth_at) {
    out.retained = Tri::unknown;
    return;
  }
  const Protocol& protocol = view.protocol();
  const bool active = protocol.word(key::first_response_placenta_management) == "active";
  out.retained = tri(placenta_retained(view.now() - *woman.birth_at, active, protocol));
  out.retained_from = *woman.birth_at + protocol.minutes(active ? key::first_response_retained_placenta
                                                                : key::first_response_retained_placenta_physiological);
}

void judge_clotting(const View& view, const Woman& woman, const BloodTargets& targets, Causes& out) {
  const Protocol& protocol = view.protocol();
  auto& why = out.coagulopathy_because;
  bool asked = false;
  const auto* test = view.last_where<record::Lab>([](const record::Lab& l) { return l.clot_test_min.has_value(); });
  if (test != nullptr) {
    asked = true;
    // A result without minutes says that none had formed within the limit.
    const auto waited = protocol.number(key::first_response_clot_test);
    if (clot_test_suspects(test->what.clot_test_min->minutes, waited, protocol) == Tri::yes)
      why.push_back({"no_clot_in_time", test->at});
  }
  if (const auto* seen = last_finding(view, "clotting"); seen != nullptr) {
    asked = true;
    if (is_one_of(seen->what.value, {"soft_clot", "no_clot", "abnormal", "oozing"}))
      why.push_back({"clotting_abnormal", seen->at});
  }
  for (const std::string_view id : {"pt_ratio", "aptt_ratio", "fibrinogen"})
    if (const Target* target = targets.find(id); target != nullptr) {
      asked = true;
      if (target->act) why.push_back({id, target->at});
    }
  for (const std::string_view caution : {"coagulopathy", "intravascular_clotting"})
    if (woman.has(caution) == Tri::yes) why.push_back({caution, {}});
  out.coagulopathy = !why.empty() ? Tri::yes : asked ? Tri::no : Tri::unknown;

  const auto* started = last_done(view, {"clot_test"});
  if (started != nullptr && (test == nullptr || test->at < started->at))
    out.clot_test_read_at = started->at + protocol.minutes(key::first_response_clot_test);
}

bool antibiotic_owed(const View& view) {
  const auto* removed = last_done(view, {"manual_removal"});
  if (removed == nullptr) return false;
  const auto* first = view.first_where<record::Drug>([&](const record::Drug& d) {
    const protocol::Drug* drug = view.protocol().drug(d.drug);
    return drug != nullptr && drug->purpose == "antibiotic";
  });
  return first == nullptr;
}

void take_signs_of(const View& view, const Causes& judged, const Woman& woman, Cause& cause) {
  const auto sign = [&](const std::optional<Moment>& at, std::string_view id) {
    if (at) cause.signs.push_back({id, at});
  };
  switch (cause.kind) {
    case CauseKind::tone:
      sign(soft_uterus_at(view), "uterus_soft");
      return;
    case CauseKind::trauma:
      sign(judged.tear_open, "tear");
      sign(judged.haematoma, "haematoma");
      sign(judged.inverted, "inversion");
      sign(judged.ruptured, "rupture");
      return;
    case CauseKind::tissue:
      if (woman.placenta == record::Placenta::in) sign(placenta_said_at(view), "placenta_in");
      sign(judged.tissue_left, "placenta_incomplete");
      return;
    case CauseKind::thrombin:
      cause.signs = judged.coagulopathy_because;
      return;
  }
}

}  // namespace

std::string_view word(CauseKind kind) { return kind_words[static_cast<std::size_t>(kind)]; }

std::string_view word(CauseState state) {
  constexpr std::array<std::string_view, 5> words{"open", "suspected", "found", "treated", "excluded"};
  return words[static_cast<std::size_t>(state)];
}

bool placenta_retained(Duration since_birth, bool active, const Protocol& protocol) {
  const protocol::Key limit =
      active ? key::first_response_retained_placenta : key::first_response_retained_placenta_physiological;
  return protocol.met(limit, since_birth.in_minutes());
}

Tri clot_test_suspects(std::optional<double> clot_at_min, std::optional<double> waited_min, const Protocol& protocol) {
  if (clot_at_min) return tri(protocol.met(key::first_response_clot_test, *clot_at_min));
  if (!waited_min) return Tri::unknown;
  return protocol.met(key::first_response_clot_test, *waited_min) ? Tri::yes : Tri::unknown;
}

std::vector<CauseKind> Causes::unanswered() const {
  std::vector<CauseKind> out;
  for (const Cause& cause : causes)
    if (!cause.answered()) out.push_back(cause.kind);
  return out;
}

Causes causes(const View& view, const Woman& woman, const BloodTargets& targets) {
  Causes out;
  out.inverted = open_finding(view, "inversion", {"inversion_replaced", "hysterectomy"});
  out.ruptured = open_finding(view, "rupture", {"laparotomy", "hysterectomy"});
  out.tear_open = open_finding(view, "tear", {"tear_repaired", "perineal_repair"});
  out.haematoma = open_finding(view, "haematoma", {"tear_repaired", "laparotomy"});
  out.tissue_left = tissue_left(view, woman);
  judge_retained(view, woman, out);
  judge_clotting(view, woman, targets, out);
  out.antibiotic_owed = antibiotic_owed(view);
  for (std::size_t i = 0; i < out.causes.size(); ++i) {
    Cause& cause = out.causes[i];
    cause.kind = static_cast<CauseKind>(i);
    take_signs_of(view, out, woman, cause);
    cause.state = state_of(cause, said_of(view, cause.kind));
  }
  return out;
}

}  // namespace stanch::care
