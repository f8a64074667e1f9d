# SPDX-License-Identifier: BSD-3-Clause
# What is installed besides the library and the program, and how others find it.
include(CMakePackageConfigHelpers)

install(FILES README.md LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR})
# The pages refer to each other by their places in the sources.
install(DIRECTORY docs DESTINATION ${CMAKE_INSTALL_DOCDIR}
  FILES_MATCHING PATTERN "*.md" PATTERN "*.c" PATTERN "*.png" PATTERN "*.svg" PATTERN "*.cff")
install(DIRECTORY validation DESTINATION ${CMAKE_INSTALL_DOCDIR} FILES_MATCHING PATTERN "*.md" PATTERN support EXCLUDE)
install(DIRECTORY apps/scenarios DESTINATION ${CMAKE_INSTALL_DATADIR}/stallwright
  FILES_MATCHING PATTERN "*.yaml" PATTERN "*.csv")

# Python finds the library as the module for HDF5 does: from its own place.
install(FILES lib/bindings/stallwright.py DESTINATION ${CMAKE_INSTALL_LIBDIR}/stallwright)

# CMake: find_package(stallwright), with COMPONENTS static for the static library too.
set(SW_PACKAGE_FOLDER ${CMAKE_INSTALL_LIBDIR}/cmake/stallwright)
install(EXPORT stallwright_shared NAMESPACE stallwright:: DESTINATION ${SW_PACKAGE_FOLDER} COMPONENT development)
install(EXPORT stallwright_static NAMESPACE stallwright:: DESTINATION ${SW_PACKAGE_FOLDER} COMPONENT development)
configure_file(lib/cmake/stallwrightConfig.cmake.in stallwrightConfig.cmake @ONLY)
# Before version 1 a new minor version may break programs: docs/changes.md.
write_basic_package_version_file(stallwrightConfigVersion.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/stallwrightConfig.cmake ${PROJECT_BINARY_DIR}/stallwrightConfigVersion.cmake
  DESTINATION ${SW_PACKAGE_FOLDER} COMPONENT development)

# pkg-config: stallwright, and stallwright-static for the static library.
file(RELATIVE_PATH SW_UP ${CMAKE_INSTALL_FULL_LIBDIR}/pkgconfig ${CMAKE_INSTALL_PREFIX})
string(REGEX REPLACE "/$" "" SW_UP ${SW_UP})
set(SW_PRIVATE_LIBRARIES "")
foreach(target cvodes nvecserial core)
  if(TARGET SUNDIALS::${target})
    get_target_property(location SUNDIALS::${target} LOCATION)
    get_filename_component(folder ${location} DIRECTORY)
    list(APPEND SW_SUNDIALS_FOLDERS ${folder})
    string(APPEND SW_PRIVATE_LIBRARIES " -lsundials_${target}")
  endif()
endforeach()
list(REMOVE_ITEM SW_SUNDIALS_FOLDERS ${CMAKE_C_IMPLICIT_LINK_DIRECTORIES})
list(REMOVE_DUPLICATES SW_SUNDIALS_FOLDERS)
foreach(folder ${SW_SUNDIALS_FOLDERS})
  string(PREPEND SW_PRIVATE_LIBRARIES " -L${folder}")
endforeach()
string(APPEND SW_PRIVATE_LIBRARIES " -pthread -lm")
foreach(library ${CMAKE_DL_LIBS})
  string(APPEND SW_PRIVATE_LIBRARIES " -l${library}")
endforeach()
set(SW_REQUIRED_PACKAGES "libfyaml, udunits, cminpack, zlib")
if(SW_WITH_QHULL)
  string(APPEND SW_REQUIRED_PACKAGES ", qhull_r")
endif()
set(SW_SHARED_LIBRARY "-L\${libdir} -lstallwright")
# A program with the static library is elsewhere than the module for HDF5: its run path leads there.
set(SW_STATIC_LIBRARY "\${libdir}/libstallwright.a -Wl,-rpath,\${moduledir}${SW_PRIVATE_LIBRARIES}")
configure_file(lib/cmake/stallwright.pc.in stallwright.pc @ONLY)
configure_file(lib/cmake/stallwright-static.pc.in stallwright-static.pc @ONLY)
install(FILES ${PROJECT_BINARY_DIR}/stallwright.pc ${PROJECT_BINARY_DIR}/stallwright-static.pc
  DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig COMPONENT development)

# Takes away what the last installation put there, and folders of ours that are then empty.
add_custom_target(uninstall
  COMMAND ${CMAKE_COMMAND} -DMANIFEST=${PROJECT_BINARY_DIR}/install_manifest.txt -P ${PROJECT_SOURCE_DIR}/lib/cmake/uninstall.cmake
  VERBATIM)
