// record_store_values.hpp: values into the columns of a row and out of them, in order.
//
// Room: record, private. Edge: the disk. May include: ground to measurement.
#pragma once

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

#include <concepts>
#include <cstdint>
#include <optional>
#include <string>
#include <type_traits>
#include <vector>

#include "midspan/record/record_names.hpp"
#include "midspan/units.hpp"

namespace midspan {

/// A row holds what no midspan writes there. Goes no further than the store.
struct UnsoundRow {};

/// Gives each question mark of a statement its value, the first one first.
class Filling {
public:
    Filling(SQLite::Database& database, const std::string& sql) : statement_{database, sql} {}

    Filling& operator<<(std::int64_t value) { return bound(value); }
    Filling& operator<<(int value) { return bound(value); }
    Filling& operator<<(bool value) { return bound(value ? 1 : 0); }
    Filling& operator<<(double value) { return bound(value); }
    Filling& operator<<(const std::string& value) { return bound(value); }
    template <class Unit>
    Filling& operator<<(Quantity<Unit> value) {
        return bound(value.value());
    }
    template <class Enumeration>
    requires std::is_enum_v<Enumeration> Filling& operator<<(Enumeration value) {
        return bound(std::string{name_of(value)});
    }
    template <class Value>
    Filling& operator<<(const std::optional<Value>& value) {
        if (value) return *this << *value;
        statement_.bind(next_++);
        return *this;
    }

    /// How many rows it changed.
    int run() { return statement_.exec(); }

    /// Whether there is a (next) row to read.
    bool next_row() { return statement_.executeStep(); }
    [[nodiscard]] SQLite::Statement& statement() { return statement_; }

private:
    template <class Value>
    Filling& bound(const Value& value) {
        statement_.bind(next_++, value);
        return *this;
    }
    SQLite::Statement statement_;
    int next_ = 1;
};

template <class Value>
struct FromColumn;

/// Reads the columns of a row, the first one first. Throws UnsoundRow.
class Row {
public:
    explicit Row(Filling& filling, int first = 0) : statement_{filling.statement()}, next_{first} {}

    template <class Value>
    Value take() {
        return FromColumn<Value>::of(statement_.getColumn(next_++));
    }
    /// Whether the next column holds nothing.
    [[nodiscard]] bool next_is_null() { return statement_.getColumn(next_).isNull(); }
    void skip(int columns) { next_ += columns; }

private:
    SQLite::Statement& statement_;
    int next_;
};

template <>
struct FromColumn<std::int64_t> {
    static std::int64_t of(const SQLite::Column& column) { return column.getInt64(); }
};
template <>
struct FromColumn<int> {
    static int of(const SQLite::Column& column) { return column.getInt(); }
};
template <>
struct FromColumn<bool> {
    static bool of(const SQLite::Column& column) { return column.getInt() != 0; }
};
template <>
struct FromColumn<double> {
    static double of(const SQLite::Column& column) { return column.getDouble(); }
};
template <>
struct FromColumn<std::string> {
    static std::string of(const SQLite::Column& column) { return column.getString(); }
};
template <class Unit>
struct FromColumn<Quantity<Unit>> {
    static Quantity<Unit> of(const SQLite::Column& column) { return Quantity<Unit>{column.getDouble()}; }
};
template <class Value>
struct FromColumn<std::optional<Value>> {
    static std::optional<Value> of(const SQLite::Column& column) {
        if (column.isNull()) return std::nullopt;
        return FromColumn<Value>::of(column);
    }
};
template <class Enumeration>
requires std::is_enum_v<Enumeration>
struct FromColumn<Enumeration> {
    static Enumeration of(const SQLite::Column& column) {
        const auto value = from_name<Enumeration>(column.getString());
        if (!value) throw UnsoundRow{};
        return *value;
    }
};

}  // namespace midspan
