// core/stanch/care/escalation.hpp
//
// How far up the ladder this bleed has come, who is called at that step and what is fetched. The trigger itself is in
// recognition.hpp, the major-haemorrhage call in transfusion.hpp, the decision on hysterectomy in mechanical.hpp.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/advice.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

struct Picture;

/// Steps of the ladder, lowest first; a higher step asks for all below.
enum class EscalationStep : std::uint8_t { none, look, first, senior, major, last };
[[nodiscard]] std::string_view word(EscalationStep step);

struct Escalation {
  EscalationStep step = EscalationStep::none;  ///< highest that what is known reaches
  std::vector<Reason> reasons;                 ///< why that step
  std::vector<std::string> uncalled;           ///< roles of the steps reached that nobody has called, in order
  Tri no_response = Tri::no;  ///< primary care: still bleeding this long after the trigger; unknown while nobody looked
};

/// What the ladder looks at, for one judgement by itself. Absent: not known.
struct EscalationFindings {
  std::optional<double> loss_ml = std::nullopt;
  bool caesarean = false;
  bool bleeding_goes_on = false;
  std::optional<double> pulse = std::nullopt;
  std::optional<double> sbp = std::nullopt;
  std::optional<double> dbp = std::nullopt;
  std::optional<double> spo2 = std::nullopt;
  Tri shock_index_alert = Tri::unknown;
  bool confused = false;
  double red_cells = 0;
  bool clotting_failure = false;
  bool major_haemorrhage = false;
};

/// The step with its reasons. Every limit by its own comparator; any one of a step's findings suffices.
/// Source: Californian staged obstetric haemorrhage guideline (read in a chart copy); RCOG Green-top 52, 2016 (from
/// memory); who is called: common practice, no source.  [ESC-300] [ESC-500] [ESC-1000] [ESC-1500] [ESC-2000]
[[nodiscard]] Escalation judge_escalation(const EscalationFindings& findings, const protocol::Protocol& protocol);

/// Of this woman, with who was called already.  [ESC-T]
[[nodiscard]] Escalation escalation(const View& view, const Picture& picture);

/// Who to call, what to fetch, the next uterotonic; in primary care, to wrap her and leave.
void advise_escalation(const Picture& picture, const View& view, AdviceBuilder& out);

[[nodiscard]] Json to_json(const Escalation& escalation, const protocol::Protocol& protocol);

}  // namespace stanch::care
