// Bytes as the dice by which tests/support/random_line.cpp builds a valid line: whatever the dice, the invariants hold.
#include "fuzz/target.hpp"
#include "support/invariants.hpp"
#include "support/random_line.hpp"

using namespace airtally;

namespace {

/// Two bytes a throw; when they are used up, numbers that the bytes decide all the same (SplitMix64).
class Dice {
 public:
  Dice(const std::uint8_t* data, std::size_t size) : data_(data), size_(size) {
    for (std::size_t i = 0; i < size; ++i) state_ = (state_ ^ data[i]) * 0x100000001b3ULL;
  }
  double next() {
    if (at_ + 2 <= size_) {
      const unsigned both = data_[at_] | static_cast<unsigned>(data_[at_ + 1]) << 8U;
      at_ += 2;
      return static_cast<double>(both) / 65536.0;
    }
    std::uint64_t z = (state_ += 0x9e3779b97f4a7c15ULL);
    z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9ULL;
    z = (z ^ (z >> 27U)) * 0x94d049bb133111ebULL;
    return static_cast<double>((z ^ (z >> 31U)) >> 11U) * 0x1.0p-53;
  }

 private:
  const std::uint8_t* data_;
  std::size_t size_, at_ = 0;
  std::uint64_t state_ = 0xcbf29ce484222325ULL;
};

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Dice dice(data, size);
  const double pick = dice.next();
  const bool moving = dice.next() < 0.01;  // a pull-down costs as much as hundreds of answers at rest
  support::Wildness wildness;
  wildness.most = moving ? 8 : 30;
  const line::Line line = support::random_line([&dice] { return dice.next(); }, wildness);
  std::vector<solve::TipState> tips(line::all_of(line, line::Kind::nozzle).size());
  for (solve::TipState& tip : tips) tip = static_cast<solve::TipState>(static_cast<int>(3.0 * dice.next()));
  const std::string broken = support::broken_invariant(line, tips, pick, moving);
  fuzz::demand(broken.empty(), broken);
  return 0;
}
