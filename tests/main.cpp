// main.cpp: runs every test; `-ts=published -ltc` lists all that was checked against someone else's number.
#define DOCTEST_CONFIG_IMPLEMENT_WITH_MAIN
#include <doctest/doctest.h>
