#include "stanch/care/facts.hpp"

#include <variant>

namespace stanch::care {

void Facts::put(const record::Entry& entry) {
  std::visit(
      [&](const auto& payload) {
        using T = std::decay_t<decltype(payload)>;
        auto& list = std::get<std::vector<Fact<T>>>(lists_);
        Fact<T> fact{entry.happened(), entry.recorded(), entry.id, entry.by, entry.second, payload};
        if (list.empty() || list.back() < fact)
          list.push_back(std::move(fact));
        else
          list.insert(std::upper_bound(list.begin(), list.end(), fact), std::move(fact));
      },
      entry.payload);
}

void Facts::take_out(const record::Entry& entry) {
  std::visit(
      [&](const auto& payload) {
        using T = std::decay_t<decltype(payload)>;
        auto& list = std::get<std::vector<Fact<T>>>(lists_);
        const auto same = [&](const Fact<T>& f) { return f.id == entry.id; };
        const auto it = std::find_if(list.begin(), list.end(), same);
        STANCH_ASSERT(it != list.end(), "an entry taken out was in effect");
        list.erase(it);
      },
      entry.payload);
}

}  // namespace stanch::care
