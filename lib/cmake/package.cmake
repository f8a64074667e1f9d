# SPDX-License-Identifier: BSD-3-Clause
# Debian packages, with "cpack -G DEB" in a build: stallwright (program, shared library, module for HDF5, manual, scenarios, docs)
# and libstallwright-dev (headers, static library, what CMake and pkg-config read). Configure with -DCMAKE_INSTALL_PREFIX=/usr and
# -DCMAKE_BUILD_TYPE=Release for packages that others install: libraries are then where Debian has them.
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME stallwright)
set(CPACK_PACKAGE_VENDOR "the stallwright contributors")
set(CPACK_PACKAGE_CONTACT "the stallwright contributors <stallwright@users.noreply.invalid>")
set(CPACK_PACKAGE_CHECKSUM SHA256)
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(CPACK_COMPONENTS_ALL program development)
set(CPACK_COMPONENTS_GROUPING IGNORE)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_ENABLE_COMPONENT_DEPENDS OFF)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
set(CPACK_DEBIAN_COMPRESSION_TYPE xz)

set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME stallwright)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
# The shared library, for packages of programs that need it and for the linker's cache.
set(SW_SONAME_VERSION ${PROJECT_VERSION_MAJOR}.${PROJECT_VERSION_MINOR})
file(WRITE ${PROJECT_BINARY_DIR}/debian/shlibs "libstallwright ${SW_SONAME_VERSION} stallwright (>= ${SW_SONAME_VERSION})\n")
file(WRITE ${PROJECT_BINARY_DIR}/debian/triggers "activate-noawait ldconfig\n")
set(CPACK_DEBIAN_PROGRAM_PACKAGE_CONTROL_EXTRA ${PROJECT_BINARY_DIR}/debian/shlibs ${PROJECT_BINARY_DIR}/debian/triggers)
# Besides what programs are linked with: PLplot loads its cairo driver when it draws, with this font; plans need time zones.
set(CPACK_DEBIAN_PROGRAM_PACKAGE_DEPENDS "plplot-driver-cairo, fonts-dejavu-core, tzdata")
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SUGGESTS "python3-numpy, python3-xarray, python3-h5netcdf, openmpi-bin")
set(CPACK_COMPONENT_PROGRAM_DESCRIPTION "simulates the long cook of a big cut of beef, stall and all
Computes heat and moisture in a brisket on the pit: when it stalls and why,
what a wrap saves, when to start and when it is done, with tables, pictures,
interactive pages, JSON and results files. Warns of food that is held too
cool; it is a model and never replaces a thermometer.")

set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_NAME libstallwright-dev)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS
  "stallwright (= ${PROJECT_VERSION}), libsundials-dev, libfyaml-dev, libudunits2-dev, libcminpack-dev, zlib1g-dev")
set(CPACK_COMPONENT_DEVELOPMENT_DESCRIPTION "library that simulates the long cook of a big cut of beef
Headers, the static library and what CMake and pkg-config read, to build
programs that cook, compare and explain by name, in SI units.")

set(CPACK_PRE_BUILD_SCRIPTS ${PROJECT_SOURCE_DIR}/lib/cmake/debian/finish_stage.cmake)
# What finish_stage.cmake reads.
set(CPACK_SW_DEBIAN_FOLDER ${PROJECT_SOURCE_DIR}/lib/cmake/debian)
include(CPack)
