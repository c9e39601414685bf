// picture.hpp: a drawing in SVG, shape by shape.
//
// Room: view. Pure. May include: nothing.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace midspan {

enum class Anchor { start, middle, end };

struct Point {
    double x;  ///< to the right
    double y;  ///< down
};

/// A picture in its own units. Coordinates are finite and land on hundredths. Shapes carry all their looks
/// with them, so that the picture is the same inside a page and alone; ink is black unless `looks` (SVG
/// attributes, written by us) says otherwise.
class Picture {
public:
    /// title  what the picture shows, for whoever cannot see it
    Picture(double width, double height, std::string_view title);

    void line(Point from, Point to, double thickness, std::string_view looks = {});
    void rectangle(Point corner, double width, double height, std::string_view looks);
    void circle(Point centre, double radius, std::string_view looks);
    void arrow(Point from, Point to, double thickness);

    /// Any text; it is escaped here.
    void text(Point at, double size, Anchor anchor, std::string_view text, std::string_view looks = {});

    [[nodiscard]] double width() const { return width_; }
    [[nodiscard]] double height() const { return height_; }

    /// An <svg> element, as wide as the page lets it be.
    [[nodiscard]] std::string in_page() const;

    /// The same as a part of another picture, its upper left corner at `corner`.
    [[nodiscard]] std::string in_picture(Point corner) const;

private:
    double width_;
    double height_;
    std::string content_;
};

/// Pictures one below the other, as one file.
[[nodiscard]] std::string svg_file(std::span<const Picture> pictures);

}  // namespace midspan
