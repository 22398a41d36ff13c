#include "stanch/care/signs.hpp"

namespace stanch::care {
namespace {

template <class Q>
record::Sought<Q> none_when_zero(const record::Sought<Q>& sought) {
  return sought.value && sought.value->count() == 0 ? record::Sought<Q>{} : sought;
}

template <class Q>
std::optional<int> number_of(const std::optional<Reading<record::Sought<Q>>>& reading) {
  if (!reading || reading->value.unrecordable()) return std::nullopt;
  return reading->value.value->count();
}

template <class T>
void newest(std::optional<Reading<T>>& into, const std::optional<T>& from, Moment at) {
  if (from) into = Reading<T>{*from, at};
}

}  // namespace

void Signs::take(const Fact<record::Vitals>& set) {
  const record::Vitals& v = set.what;
  if (v.pulse) pulse = {none_when_zero(*v.pulse), set.at};
  if (v.sbp) {
    sbp = {none_when_zero(*v.sbp), set.at};
    palpated = v.palpated;
  }
  newest(dbp, v.dbp, set.at);
  newest(rr, v.rr, set.at);
  newest(spo2, v.spo2, set.at);
  newest(temp_c, v.temp_c, set.at);
  newest(avpu, v.avpu, set.at);
  newest(cap_refill_s, v.cap_refill_s, set.at);
}

std::optional<int> Signs::pulse_per_min() const { return number_of(pulse); }
std::optional<int> Signs::sbp_mmhg() const { return number_of(sbp); }

Signs signs(const View& view) {
  Signs out;
  for (const auto& set : view.all<record::Vitals>()) out.take(set);
  return out;
}

bool is_fresh(Moment read_at, const View& view) {
  return view.now() - read_at <= view.protocol().minutes(protocol::key::series_fresh);
}

Tri judged(bool past_limit, Moment read_at, const View& view) {
  if (past_limit) return Tri::yes;
  return is_fresh(read_at, view) ? Tri::no : Tri::unknown;
}

}  // namespace stanch::care
