#include "stanch/slip/words.hpp"

#include <algorithm>
#include <array>
#include <numeric>

namespace stanch::slip {
namespace {

// The commoner in the practice cases, the shorter the number. Never changed: a slip of tomorrow is read by a phone of
// today. Another table is another version.
constexpr std::string_view text =
    "what dbp pulse sbp vitals finding value drug manoeuvre loss method state spo2 action garment call dose route "
    "unit who rr A avpu segment drape level_ml called ml over_min bleeding dry_g ok weighed wet_g tension close "
    "excluded people second temp_c arrived fluid infusion resolution_ml IU oxytocin tone placenta hb_gl iv_slow "
    "place where obstetrician cause_tone g im opened amount_ml birth_mode blood minutes_to_care product "
    "tranexamic_acid units blood_group group heavy level light monitor red_cells source treated O+ age_y birth_at "
    "bloods_taken cause_thrombin cause_trauma cautions firm gestation_wk gravida height_cm help hospital "
    "iv_access_1 label massage open para prevention reason unwrap use weight_kg cause_tissue crossmatched "
    "iv_access_2 iv_infusion soft warmed ankle bladder_emptied bleeding_stopped blood_bank both caesarean calf "
    "complete in lab outcome placenta_examined side tract_examined urine ward yes anaesthetist fibrinogen_gl "
    "found lactate platelets ringer_lactate vaginal A+ belly_ball belly_close carboprost catheter clotting "
    "garment_id mg none normal pelvis surgery thigh O- placed saline B+ closed emptied estimate helper ica "
    "iv_running knife_to_skin mixed_with other_ml out_complete pt_ratio qualified_clinician suction theatre to "
    "undelivered ambulance amniotic aptt_ratio assisted asthma calcium_gluconate check clot_test_min "
    "clots_expelled compression_suture decided fibrinogen_concentrate handed_over hypertension irrigation left mL "
    "neuraxial_block off plasma preeclampsia previous_caesarean primary read_back strikes tear_repaired unknown "
    "viable_fetus A- AB+ AB- B- C P U V advice advice_declined advice_shown anaesthetist_warned ankle_folded "
    "antibiotic_prophylaxis aortic_compression balanced balloon_in balloon_out baseline beta_blocker bimanual "
    "birth_estimated bleeding_above_diaphragm breathing breathless broken calcium_chloride cap_refill_s "
    "carbetocin claim clot_test coagulopathy colloid consent consultant controlled_traction cpr cryo curettage "
    "declines_blood devices_written_down dextrose_5 did_not_happen died dinoprostone documents done easy "
    "eclampsia embolisation entries ergometrine escort fibrinogen finished fundal_check given haematologist "
    "haematoma hct_percent heart_disease heart_failure hepatic_disease hiv_protease_inhibitor hysterectomy "
    "imaging incision_in_min incomplete inr intensive_care intramyometrial intravascular_clotting inversion "
    "inversion_replaced iv_bolus laparotomy ligation loose lung_oedema major_haemorrhage manual manual_removal "
    "methylergometrine midwife_lead migraine misoprostol mitral_stenosis multiple_pregnancy no no_clot note "
    "obesity_beyond_closure ongoing oozing other out_incomplete oxygen oxytocin_ergometrine packing pad "
    "pad_soaked_min palpated pelvic_haematoma perineal_repair ph placenta_removed planned po position pr "
    "previous_haemorrhage procedure pulmonary_disease pulmonary_hypertension pv raynaud receiver_confirmed "
    "recovered red_cells_expected renal_impairment retained_fetus rhd_negative right rupture seizures "
    "senior_anaesthetist senior_obstetrician sepsis severe_anaemia skew_ms skin skin_breakdown sl smoker_over_35 "
    "soaked soft_clot started strike sulprostone suspected tear thrombosis treatment two_lines_running ug "
    "unclaimed unrecordable vacuum_aspiration vascular_disease ventilation warm whole_blood why "
    "would_die_otherwise wrong_person wrong_time wrong_value";

constexpr std::array<std::string_view, n_words> words = [] {
  std::array<std::string_view, n_words> all{};
  std::string_view rest = text;
  for (std::string_view& word : all) {
    const auto n = std::min(rest.find(' '), rest.size());
    word = rest.substr(0, n);
    rest.remove_prefix(std::min(n + 1, rest.size()));
  }
  return all;
}();
static_assert(!words.back().empty());

constexpr std::array<std::size_t, n_words> by_word = [] {
  std::array<std::size_t, n_words> all{};
  std::iota(all.begin(), all.end(), std::size_t{0});
  std::sort(all.begin(), all.end(), [](std::size_t a, std::size_t b) { return words[a] < words[b]; });
  return all;
}();

}  // namespace

std::optional<std::size_t> number_of_word(std::string_view word) {
  const auto it = std::lower_bound(by_word.begin(), by_word.end(), word,
                                   [](std::size_t number, std::string_view wanted) { return words[number] < wanted; });
  if (it == by_word.end() || words[*it] != word) return std::nullopt;
  return *it;
}

std::string_view word_numbered(std::size_t number) { return words[number]; }

}  // namespace stanch::slip
