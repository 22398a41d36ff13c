#include "stanch/care/loss.hpp"

#include <algorithm>
#include <cstddef>

#include "stanch/care/loss_rate.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;
using record::Loss;
using record::LossMethod;

constexpr std::size_t methods = 4;
constexpr std::size_t fluids = 3;  // kinds of MixedWith

/// The container now open for one method.
struct Container {
  double baseline_ml = 0;
  std::array<double, fluids> other_ml{};
  double blood_ml = 0;  ///< most blood it was seen to hold

  [[nodiscard]] double other() const {
    double sum = 0;
    for (const double ml : other_ml) sum += ml;
    return sum;
  }
};

double step_of(const Loss& loss, const protocol::Protocol& protocol) {
  constexpr std::array steps{key::loss_step_drape, key::loss_step_weighed, key::loss_step_suction,
                             key::loss_step_estimate};
  return loss.resolution_ml.value_or(protocol.number(steps[static_cast<std::size_t>(loss.method)]));
}

class Reader {
 public:
  explicit Reader(const View& view) : protocol_(view.protocol()) {}

  void read(const Fact<Loss>& fact) {
    const Loss& loss = fact.what;
    Container& open = open_[static_cast<std::size_t>(loss.method)];
    if (loss.level_ml && !read_level(fact, open)) return;
    if (loss.amount_ml)
      add(fact, *loss.amount_ml);
    else if (loss.wet_g && loss.dry_g)
      // The record refuses a wet weight below the dry one, and the protocol a density that is not above 0.
      add(fact, blood_from_mass(*loss.wet_g - *loss.dry_g, protocol_.number(key::loss_density)).value_or(0));
    if (loss.level_ml || loss.amount_ml || loss.wet_g) note_point(fact);
    if (loss.emptied) empty(open);
  }

  MeasuredLoss finish() && {
    if (!out_.points.empty()) out_.total_ml = total_;
    for (const Container& open : open_) out_.other_fluid_ml += open.other();
    return std::move(out_);
  }

 private:
  // False when the reading contradicts an earlier one, so that it tells nothing.
  bool read_level(const Fact<Loss>& fact, Container& open) {
    const Loss& loss = fact.what;
    if (loss.baseline) {
      open.baseline_ml = *loss.level_ml;
      return true;
    }
    if (loss.other_ml && loss.mixed_with) {
      double& other = open.other_ml[static_cast<std::size_t>(*loss.mixed_with)];
      other = std::max(other, *loss.other_ml);
    }
    const double blood = *loss.level_ml - open.baseline_ml - open.other();
    if (blood < open.blood_ml) {
      out_.problems.push_back({LossProblem::What::non_monotone, fact.at, fact.id, blood, open.blood_ml});
      if (loss.emptied) empty(open);
      return false;
    }
    count(loss.method, blood - open.blood_ml);
    open.blood_ml = blood;
    return true;
  }

  void add(const Fact<Loss>& fact, double gross_ml) {
    const double other = fact.what.other_ml.value_or(0);
    if (gross_ml < other) {
      out_.problems.push_back({LossProblem::What::below_other_fluid, fact.at, fact.id, gross_ml - other, 0});
      out_.other_fluid_ml += gross_ml;
      return;
    }
    out_.other_fluid_ml += other;
    count(fact.what.method, gross_ml - other);
  }

  void count(LossMethod method, double blood_ml) {
    total_ += blood_ml;
    out_.by_method_ml[static_cast<std::size_t>(method)] += blood_ml;
  }

  void note_point(const Fact<Loss>& fact) {
    const Loss& loss = fact.what;
    out_.points.push_back({fact.at, total_, loss.method, loss.level_ml.has_value(), step_of(loss, protocol_)});
  }

  void empty(Container& open) {
    out_.other_fluid_ml += open.other();
    open = {};
  }

  const protocol::Protocol& protocol_;
  std::array<Container, methods> open_;
  double total_ = 0;
  MeasuredLoss out_;
};

Reason reason_of(const LossProblem& problem) {
  const bool falls = problem.what == LossProblem::What::non_monotone;
  return {std::string(word(problem.what)), falls ? "SEM-6" : "BL-12", std::nullopt, problem.read_ml, "", problem.at};
}

}  // namespace

std::string_view word(LossProblem::What what) {
  return what == LossProblem::What::non_monotone ? "non_monotone" : "below_other_fluid";
}

double MeasuredLoss::total_at(Moment moment) const {
  const auto after = std::upper_bound(points.begin(), points.end(), moment,
                                      [](Moment m, const LossPoint& point) { return m < point.at; });
  return after == points.begin() ? 0 : (after - 1)->total_ml;
}

double MeasuredLoss::total_before(Moment moment) const {
  const auto at = std::lower_bound(points.begin(), points.end(), moment,
                                   [](const LossPoint& point, Moment m) { return point.at < m; });
  return at == points.begin() ? 0 : (at - 1)->total_ml;
}

bool MeasuredLoss::mostly_estimated() const {
  return total_ml && of(LossMethod::estimate) > *total_ml - of(LossMethod::estimate);
}

MeasuredLoss measured_loss(const View& view) {
  Reader reader(view);
  for (const auto& fact : view.all<Loss>()) reader.read(fact);
  return std::move(reader).finish();
}

namespace {

// The readings as they would be with one more, put where its time belongs and without the one it strikes.
MeasuredLoss measured_loss_with(const View& view, const Fact<Loss>& added, const std::optional<Id>& struck) {
  Reader reader(view);
  bool read = false;
  for (const auto& fact : view.all<Loss>()) {
    if (!read && added < fact) {
      reader.read(added);
      read = true;
    }
    if (fact.id != struck) reader.read(fact);
  }
  if (!read) reader.read(added);
  return std::move(reader).finish();
}

}  // namespace

Verdict may_record_loss(const View& view, const MeasuredLoss& loss, const record::Entry& proposed) {
  Verdict out;
  const auto* what = std::get_if<Loss>(&proposed.payload);
  if (what == nullptr) return out;
  const Fact<Loss> added{proposed.happened(), proposed.recorded(), proposed.id, proposed.by, proposed.second, *what};
  const MeasuredLoss with = measured_loss_with(view, added, proposed.strikes);
  for (const LossProblem& problem : with.problems) {
    const bool known = std::any_of(loss.problems.begin(), loss.problems.end(),
                                   [&](const LossProblem& old) { return old.entry == problem.entry; });
    if (!known) out.stop(Permission::needs_override, reason_of(problem));
  }
  return out;
}

void advise_loss(const MeasuredLoss& loss, AdviceBuilder& out) {
  for (const LossProblem& problem : loss.problems)
    out.notice({std::string(word(problem.what)), to_text(problem.entry), Priority::medium, {reason_of(problem)}});
  if (!loss.mostly_estimated()) return;
  const Reason low{"true_loss_often_more", "BL-19", key::loss_true_low, loss.total_ml, "at_least", {}};
  const Reason high{"true_loss_often_more", "BL-19", key::loss_true_high, loss.total_ml, "up_to", {}};
  out.notice({"estimate_reads_low", "", Priority::low, {low, high}});
}

LikelyLoss likely_loss(const MeasuredLoss& loss, const protocol::Protocol& protocol) {
  const double by_eye = loss.of(LossMethod::estimate);
  const double measured = loss.total_ml.value_or(0) - by_eye;
  return {measured + by_eye * protocol.number(key::loss_true_low),
          measured + by_eye * protocol.number(key::loss_true_high)};
}

}  // namespace stanch::care
