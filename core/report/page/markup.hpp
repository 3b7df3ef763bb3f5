#pragma once
#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

/// HTML and SVG, and the one place that makes text from files harmless in them.
namespace airtally::report::page {

/// The text as people may see it: UTF-8 put right, and nothing that commands() or is no character. Each of these
/// becomes U+FFFD.
std::string harmless(std::string_view text);

/// Harmless, and with & < > " ' written so that neither text nor attribute can end there.
std::string escaped(std::string_view text);

/// JSON so written that it can stand inside <script>: no "<", ">", "&" and no line separator of Unicode. Only strings
/// hold these, and there the escapes mean the same.
std::string in_script(std::string_view json);

struct Attribute {
  std::string_view name;
  std::string value;
};
using Attributes = std::vector<Attribute>;

/// Writes elements one after another, every text escaped. What it writes is well-formed both as XML and as HTML.
class Markup {
 public:
  Markup& open(std::string_view tag, const Attributes& attributes = {});
  Markup& close();
  Markup& text(std::string_view text);
  /// An element without content: <path/>, <meta/>.
  Markup& leaf(std::string_view tag, const Attributes& attributes = {});
  /// An element that holds nothing but text.
  Markup& element(std::string_view tag, std::string_view text, const Attributes& attributes = {});
  /// What is markup already, or a stylesheet or script of ours.
  Markup& raw(std::string_view trusted);
  /// All of it; every element must have been closed.
  std::string take();

 private:
  void start(std::string_view tag, const Attributes& attributes);
  std::string out_;
  std::vector<std::string> open_;
};

/// A number for an attribute: at most `decimals` places, no zeros at its end. Throws DomainError if it is not finite.
std::string number(double value, int decimals = 1);
/// The shortest number that reads back as the same double. Throws DomainError if it is not finite.
std::string exact(double value);

}  // namespace airtally::report::page
