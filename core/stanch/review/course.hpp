// core/stanch/review/course.hpp
//
// The course of a case, ready to be drawn: every series, bar, line and flag as figures on one time axis, so that a
// screen has nothing to work out. Nothing is judged here. docs/formats/course.md lists every field.
#pragma once

#include "stanch/base/json.hpp"
#include "stanch/care/picture.hpp"
#include "stanch/care/view.hpp"
#include "stanch/record/case.hpp"

namespace stanch::review {

/// Where minute 0 of the axis lies: birth when its time is known, else the first entry in effect, else now.
struct Axis {
  Moment zero;
  bool from_birth = false;

  [[nodiscard]] double minute(Moment moment) const { return (moment - zero).in_minutes(); }
};

/// {"pulse", "sbp", "dbp", "shock_index"}: points in order; `gap` where the last one is longer ago than
/// observe.overdue_factor times the interval that was asked for after it, so that the two are not joined.
[[nodiscard]] Json course_signs(const care::View& view, const Axis& axis);

/// One point a reading: the total, and with eye estimates among it how much it may be.  [BL-19]
[[nodiscard]] Json course_loss(const care::View& view, const care::MeasuredLoss& loss, const Axis& axis);

/// Lanes of drugs, fluids by class, and blood products: each with its items, total, and most when the protocol has one.
[[nodiscard]] Json course_given(const care::View& view, const care::Picture& picture, const Axis& axis);

/// {"segments": [{"id", "spans"}], "waits"}: when each was closed or open, and when the wait of each opening ended.
[[nodiscard]] Json course_garment(const care::View& view, const Axis& axis);

/// All of it, with the lines of the protocol, the flags of each row and one sentence. Quadratic in the entries about
/// the garment and in those gaps that might be long; else linear.
[[nodiscard]] Json course(const care::View& view, const record::Case& entries);

}  // namespace stanch::review
