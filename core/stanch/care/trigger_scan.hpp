// core/stanch/care/trigger_scan.hpp
//
// Finds the first moment at which the bleeding was a haemorrhage. Part of recognition.hpp, which says what counts.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "stanch/care/blood_volume.hpp"
#include "stanch/care/loss.hpp"
#include "stanch/care/reason.hpp"
#include "stanch/care/signs.hpp"
#include "stanch/care/view.hpp"
#include "stanch/care/woman.hpp"

namespace stanch::care {

class TriggerScan {
 public:
  /// Borrows all; they must outlive it.
  TriggerScan(const View& view, const Woman& woman, const MeasuredLoss& loss, const BloodVolume& volume);

  struct Outcome {
    Tri met = Tri::unknown;
    std::optional<Moment> t0;
    std::vector<Reason> reasons;
  };
  /// Walks the record once; ends at the first moment that holds.
  [[nodiscard]] Outcome run();

  /// Loss that counts at a moment, when anything was measured by then.
  [[nodiscard]] std::optional<double> counted_at(Moment moment) const;

 private:
  /// What is known at the moment the scan has come to.
  struct Known {
    Signs signs;
    std::optional<double> loss_ml;
    std::optional<double> hb_gl;
    Tri continuing = Tri::unknown;
    bool called_heavy = false;
    bool called_help = false;
    std::optional<double> soaked_pad_min;
    int soaked_pads = 0;
  };

  void take(const Fact<record::Finding>& fact);
  void take(const Fact<record::Outcome>& fact);
  [[nodiscard]] bool counts_from_here(Moment moment) const { return !from_ || moment >= *from_; }
  [[nodiscard]] Tri judge(Moment moment, std::vector<Reason>* why) const;
  [[nodiscard]] Tri by_volume(Moment moment, std::vector<Reason>* why) const;
  [[nodiscard]] Tri at_caesarean(Moment moment, std::vector<Reason>* why) const;
  [[nodiscard]] bool by_judgement(std::vector<Reason>* why) const;
  [[nodiscard]] bool small_or_anaemic(std::vector<Reason>* why) const;
  [[nodiscard]] bool soaked(std::vector<Reason>* why) const;
  [[nodiscard]] Tri bleeding_seen() const;
  [[nodiscard]] bool met(protocol::Key limit) const;

  const View& view_;
  const Woman& woman_;
  const MeasuredLoss& loss_;
  const BloodVolume& volume_;
  std::optional<Moment> from_;        ///< loss before does not count; absent: all counts
  std::optional<Moment> window_end_;  ///< of the primary window
  Known known_;
};

}  // namespace stanch::care
