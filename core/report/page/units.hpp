#pragma once
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "report/look.hpp"
#include "report/page/markup.hpp"

namespace airtally::report::page {

/// The units between which a page can switch: each vacuum on it is written in all of them. Whoever reads without
/// script sees the first, the one asked for.
class Units {
 public:
  explicit Units(const Look& first);

  const Look& first() const { return looks_.front(); }
  const std::vector<Look>& looks() const { return looks_; }

  /// Something that depends on the unit, as the text of a <tag>. Attributes are added to it.
  void said(Markup& out, std::string_view tag, const std::function<std::string(const Look&)>& text,
            Attributes attributes = {}) const;
  /// A vacuum [Pa] without its unit, rounded as suits numbers up to `top` [Pa]; `gain` puts "+" before what is above 0.
  void vacuum(Markup& out, std::string_view tag, double pa, double top, bool gain = false,
              Attributes attributes = {}) const;
  /// The name of the unit.
  void name(Markup& out, std::string_view tag) const;

 private:
  std::vector<Look> looks_;
};

}  // namespace airtally::report::page
