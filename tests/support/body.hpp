// The shipped physiology for tests: constants, drugs and fluids of the protocol, and one woman run at a time.
#pragma once

#include <nlohmann/json.hpp>
#include <vector>

#include "stanch/physiology/estimate.hpp"
#include "stanch/physiology/kernel.hpp"
#include "stanch/physiology/plan.hpp"
#include "stanch/protocol/protocol.hpp"

namespace stanch::tests {

inline const physiology::Constants<double>& body_constants() {
  static const auto constants = *physiology::read_constants(protocol::Protocol::shipped().table("body_constant"));
  return constants;
}

inline const physiology::Pharmacy& body_pharmacy() {
  static const auto pharmacy = *physiology::read_pharmacy(protocol::Protocol::shipped().table("body_drug"),
                                                          protocol::Protocol::shipped().table("body_fluid"));
  return pharmacy;
}

inline const physiology::Model& body_model() {
  static const physiology::Model model{body_constants(), body_pharmacy(),
                                       *physiology::read_prior(protocol::Protocol::shipped().table("body_prior"))};
  return model;
}

inline std::vector<physiology::Signals<double>> body_signals(const physiology::Plan& plan, double minutes,
                                                             int per_minute = physiology::steps_per_minute) {
  return physiology::signals_of(plan, body_pharmacy(), body_constants(),
                                static_cast<std::size_t>(physiology::step_of(minutes, per_minute)) + 1, per_minute);
}

/// One woman in double precision, from rest.
class OneWoman {
 public:
  explicit OneWoman(const physiology::Parameters& woman, std::vector<physiology::Signals<double>> signals,
                    int per_minute = physiology::steps_per_minute,
                    const physiology::Constants<double>& constants = body_constants())
      : physics_(physiology::physics<double>(constants, per_minute)), signals_(std::move(signals)) {
    physiology::set_traits(traits_, 0, woman, constants);
    physiology::set_at_rest(states_, 0, woman, constants);
  }
  void run_to(double minute) {
    const auto to = physiology::step_of(minute, physics_.pace.steps_per_minute);
    run(physics_, traits_, states_, step_, std::span(signals_).subspan(index(), static_cast<std::size_t>(to - step_)),
        {}, 1);
    step_ = to;
  }
  const physiology::Outputs<double>& out() {
    observe(physics_, traits_, states_, signals_[index()], outputs_, 1);
    return outputs_;
  }
  physiology::States<double>& states() { return states_; }

 private:
  [[nodiscard]] std::size_t index() const { return static_cast<std::size_t>(step_); }
  physiology::Physics<double> physics_;
  physiology::Traits<double> traits_{};
  physiology::States<double> states_{};
  physiology::Outputs<double> outputs_{};
  std::vector<physiology::Signals<double>> signals_;
  std::int64_t step_ = 0;
};

}  // namespace stanch::tests
