// picture.cpp: shapes become elements at once; nothing is kept but text.
//
// Room: view. Pure.
#include "view/picture.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "view/escaped.hpp"

namespace midspan {
namespace {

constexpr double head_length = 6.0;
constexpr double head_width = 6.0;
constexpr double between_pictures = 24.0;
constexpr std::string_view lettering = "style=\"font-family:system-ui,'Liberation Sans',Arial,sans-serif\"";

/// A hundredth of a unit is finer than any printer.
std::string n(double value) {
    const double hundredths = std::round(value * 100.0);
    return fmt::format("{:g}", hundredths == 0.0 ? 0.0 : hundredths / 100.0);
}

std::string with_space(std::string_view looks) {
    return looks.empty() ? std::string{} : ' ' + std::string{looks};
}

std::string_view anchor_name(Anchor anchor) {
    switch (anchor) {
        case Anchor::middle:
            return "middle";
        case Anchor::end:
            return "end";
        case Anchor::start:
            break;
    }
    return "start";
}

}  // namespace

Picture::Picture(double width, double height, std::string_view title)
    : width_{width}, height_{height}, content_{fmt::format("<title>{}</title>\n", escaped(title))} {}

void Picture::line(Point from, Point to, double thickness, std::string_view looks) {
    const std::string stroke = looks.find("stroke=") == std::string_view::npos ? " stroke=\"#000\"" : "";
    content_ += fmt::format(R"(<line x1="{}" y1="{}" x2="{}" y2="{}" stroke-width="{}"{}{}/>)", n(from.x),
                            n(from.y), n(to.x), n(to.y), n(thickness), stroke, with_space(looks)) +
                '\n';
}

void Picture::rectangle(Point corner, double width, double height, std::string_view looks) {
    content_ += fmt::format(R"(<rect x="{}" y="{}" width="{}" height="{}"{}/>)", n(corner.x), n(corner.y),
                            n(width), n(height), with_space(looks)) +
                '\n';
}

void Picture::circle(Point centre, double radius, std::string_view looks) {
    content_ += fmt::format(R"(<circle cx="{}" cy="{}" r="{}"{}/>)", n(centre.x), n(centre.y), n(radius),
                            with_space(looks)) +
                '\n';
}

void Picture::arrow(Point from, Point to, double thickness) {
    const double length = std::hypot(to.x - from.x, to.y - from.y);
    if (length == 0.0) return;
    const Point along{(to.x - from.x) / length, (to.y - from.y) / length};
    const double head = std::min(head_length, length);
    const Point neck{to.x - head * along.x, to.y - head * along.y};
    const double side = 0.5 * head_width * head / head_length;
    line(from, neck, thickness);
    content_ +=
        fmt::format(R"(<path d="M{} {}L{} {}L{} {}Z"/>)", n(to.x), n(to.y), n(neck.x - side * along.y),
                    n(neck.y + side * along.x), n(neck.x + side * along.y), n(neck.y - side * along.x)) +
        '\n';
}

void Picture::text(Point at, double size, Anchor anchor, std::string_view text, std::string_view looks) {
    content_ += fmt::format(R"(<text x="{}" y="{}" font-size="{}" text-anchor="{}"{}>{}</text>)", n(at.x),
                            n(at.y), n(size), anchor_name(anchor), with_space(looks), escaped(text)) +
                '\n';
}

std::string Picture::in_page() const {
    return fmt::format("<svg viewBox=\"0 0 {} {}\" role=\"img\" {}>\n{}</svg>\n", n(width_), n(height_),
                       lettering, content_);
}

std::string Picture::in_picture(Point corner) const {
    return fmt::format("<svg x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" {}>\n{}</svg>\n", n(corner.x),
                       n(corner.y), n(width_), n(height_), lettering, content_);
}

std::string svg_file(std::span<const Picture> pictures) {
    double width = 0.0;
    double height = 0.0;
    std::string parts;
    for (const Picture& picture : pictures) {
        if (!parts.empty()) height += between_pictures;
        parts += picture.in_picture({0.0, height});
        width = std::max(width, picture.width());
        height += picture.height();
    }
    return fmt::format(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0} {1}\" width=\"{0}\" "
        "height=\"{1}\">\n"
        "<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n{2}</svg>\n",
        n(width), n(height), parts);
}

}  // namespace midspan
