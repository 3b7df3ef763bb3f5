#pragma once
#include <string>
#include <string_view>

/// The stylesheets and scripts that go into a page, as the build found them in their files.
namespace airtally::report::page {

struct Asset {
  std::string_view text;
  std::string_view sha256;  ///< of the text, 64 hexadecimal digits
};

extern const Asset style_asset;    ///< of the page, the pictures and the plotting library
extern const Asset script_asset;   ///< the plotting library, then ours
extern const Asset picture_asset;  ///< what a picture needs that stands in a file of its own

/// The digest as a content security policy wants it: "sha256-" and base64.
std::string policy_source(const Asset& asset);

}  // namespace airtally::report::page
