// tests/simulation/world.hpp
//
// A made world of one hub, three wards and sixteen phones that lose their lines, crash in the middle of an exchange,
// get batches twice and out of order, and have wrong clocks. What reads a batch, judges it and decides what to send
// next is the server's own code; networks, disks and clocks are made, so that a seed always gives the same world.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace stanch::simulation {

/// What may go wrong in a world, besides lines, crashes, repeats and disorder, which are in all of them.
enum class Trouble {
  roaming,     ///< clocks right; phones go from ward to ward, hand cases on directly, wards begin anew
  clocks,      ///< clocks up to an hour off; every phone stays with its ward; some phones are lost for good
  everything,  ///< all of it but lost phones
};

struct Outcome {
  std::vector<std::string> faults;  ///< a sentence each; empty when all laws held
  std::size_t entries = 0;          ///< that were written
  std::size_t exchanges = 0;        ///< begun
  std::size_t cut_off = 0;          ///< of these
};

/// Runs one world to its end, then mends every line and lets all meet, and checks the laws: all hosts hold the same;
/// nothing that was acknowledged is missing; where clocks are right, every host gives the advice of the union; where
/// they are not, every host with a line to the writer's ward knows the true time of an entry to two seconds.
[[nodiscard]] Outcome run_world(std::uint64_t seed, Trouble trouble);

}  // namespace stanch::simulation
