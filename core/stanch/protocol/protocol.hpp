// core/stanch/protocol/protocol.hpp
//
// The local protocol as data: every clinical value with its unit, comparator, source and status, the rules that use
// them, drugs, products, garment segments. The shipped default is compiled in; a ward's own file changes values within
// limits. Rules read values by generated key (keys.hpp), so a misspelt id does not compile.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/base/moment.hpp"
#include "stanch/base/result.hpp"
#include "stanch/base/units.hpp"
#include "stanch/protocol/keys.hpp"
#include "stanch/protocol/table.hpp"

namespace stanch::protocol {

/// Who stands behind a ward's file. Without it the file is refused.
struct Approval {
  std::string by;
  std::string role;
  std::string on;  ///< calendar day, YYYY-MM-DD
};

class Protocol {
 public:
  /// The shipped default, unchanged. It is not approved by anyone: hosts say so.
  [[nodiscard]] static const Protocol& shipped();

  /// Reads a whole protocol from the embedder's JSON.
  /// @return problems: protocol.malformed naming the field.
  [[nodiscard]] static Result<Protocol> from_json(const Json& json);

  /// This protocol with a ward's changes: {"protocol": {name, version, based_on?}, "approved": {by, role, on},
  /// "values": {id: value or {"value": v, "compare": "<="}}}. `based_on`, when given, must be this version. Refused
  /// whole, all problems together.
  /// @return problems: protocol.unknown_value, protocol.out_of_range, protocol.comparator, protocol.unsigned,
  ///         protocol.malformed.
  [[nodiscard]] Result<Protocol> with_ward_file(const Json& ward) const;

  // Values.
  [[nodiscard]] const Value& value(Key key) const { return values_[static_cast<std::size_t>(key)]; }
  [[nodiscard]] double number(Key key) const { return value(key).number; }
  [[nodiscard]] const std::string& word(Key key) const { return value(key).word; }
  [[nodiscard]] const std::vector<std::string>& words(Key key) const { return value(key).words; }
  [[nodiscard]] Duration minutes(Key key) const { return Duration::minutes(number(key)); }
  [[nodiscard]] Duration hours(Key key) const { return Duration::hours(number(key)); }
  /// True when `seen` makes the value's condition true, by its comparator, exactly.
  [[nodiscard]] bool met(Key key, double seen) const { return value(key).met_by(seen); }
  template <class Unit, class Rep>
  [[nodiscard]] bool met(Key key, Quantity<Unit, Rep> seen) const {
    return met(key, static_cast<double>(seen.count()));
  }
  /// The key of a dotted id, for ids made of parts ("drug.carboprost.interval").
  [[nodiscard]] std::optional<Key> find(std::string_view id) const;

  // ---- Tables
  // --------------------------------------------------------------------------------------------------------
  [[nodiscard]] const std::vector<Value>& values() const { return values_; }
  [[nodiscard]] const std::vector<Rule>& rules() const { return rules_; }
  [[nodiscard]] const std::vector<Source>& sources() const { return sources_; }
  [[nodiscard]] const std::vector<Drug>& drugs() const { return drugs_; }
  [[nodiscard]] const Drug* drug(std::string_view id) const;
  /// Rows of the simple tables: "fluid", "product", "manoeuvre", "caution", "layout", "segment", "phase", "fact".
  [[nodiscard]] const Json& table(std::string_view name) const;
  [[nodiscard]] const Json* row(std::string_view table_name, std::string_view id) const;

  // ---- Identity
  // ------------------------------------------------------------------------------------------------------
  [[nodiscard]] const std::string& name() const { return name_; }
  [[nodiscard]] const std::string& version() const { return version_; }
  [[nodiscard]] const std::optional<Approval>& approval() const { return approval_; }
  /// SHA-256 over the canonical JSON of what is in force; changes when any value does.
  [[nodiscard]] const std::string& hash() const { return hash_; }
  /// Ids of the values that a ward changed.
  [[nodiscard]] const std::vector<Key>& changed() const { return changed_; }

 private:
  void seal();

  std::string name_;
  std::string version_;
  std::optional<Approval> approval_;
  std::string hash_;
  std::vector<Value> values_;
  std::vector<Rule> rules_;
  std::vector<Source> sources_;
  std::vector<Drug> drugs_;
  std::vector<Key> changed_;
  std::shared_ptr<const Json> tables_;
};

/// The embedded default as JSON text (generated).
[[nodiscard]] std::string_view default_protocol_json();

}  // namespace stanch::protocol
