# Finds again what an installed midspan links.
include(CMakeFindDependencyMacro)
find_dependency(PkgConfig)
find_dependency(fmt CONFIG)
find_dependency(tomlplusplus CONFIG)
pkg_check_modules(SNDFILE REQUIRED IMPORTED_TARGET sndfile)
pkg_check_modules(PORTAUDIO REQUIRED IMPORTED_TARGET portaudio-2.0)
include(${CMAKE_CURRENT_LIST_DIR}/midspanTargets.cmake)
