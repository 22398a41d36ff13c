#include "stanch/care/advise.hpp"

#include <nlohmann/json.hpp>

namespace stanch::care {

Advice advise(const View& view, const Picture& picture, const record::Case& entries) {
  AdviceBuilder out(view.now());
  // In the order of care: what ranks equal is shown in this order.
  // -- measuring and recognising --
  // -- first response, fluids, blood --
  // -- drugs --
  // -- garment --
  // -- observations --
  static_cast<void>(picture);
  static_cast<void>(entries);
  return std::move(out).finish();
}

Verdict may(const View& view, const Picture& picture, const record::Entry& proposed) {
  switch (proposed.kind) {
    // -- drugs --
    // -- garment --
    // -- first response, fluids, blood --
    default:
      static_cast<void>(view);
      static_cast<void>(picture);
      return {};
  }
}

}  // namespace stanch::care
