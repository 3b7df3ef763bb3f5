#include "laws/require.hpp"

#include "errors.hpp"

namespace airtally::laws {

void out_of_range(const char* sentence) { throw DomainError(sentence); }

}  // namespace airtally::laws
