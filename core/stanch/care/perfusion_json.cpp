#include <nlohmann/json.hpp>

#include "stanch/care/perfusion.hpp"

namespace stanch::care {

Json to_json(const Perfusion& perfusion) {
  Json out{{"clinical_shock", word(perfusion.clinical_shock)},
           {"in_shock", word(perfusion.in_shock)},
           {"fast_breathing", word(perfusion.fast_breathing)},
           {"little_urine", word(perfusion.little_urine)},
           {"urine_target", word(perfusion.urine_target)},
           {"slow_refill", word(perfusion.slow_refill)},
           {"lactate_abnormal", word(perfusion.lactate_abnormal)},
           {"massive_transfusion_likely", word(perfusion.massive_transfusion_likely)},
           {"cold", word(perfusion.cold)},
           {"needs_warming", word(perfusion.needs_warming)}};
  if (perfusion.lactate) out["lactate"] = *perfusion.lactate;
  if (perfusion.urine) {
    out["urine_ml_per_h"] = perfusion.urine->ml_per_h();
    out["urine_from"] = to_text(perfusion.urine->from);
    out["urine_to"] = to_text(perfusion.urine->to);
  }
  return out;
}

}  // namespace stanch::care
