# SPDX-License-Identifier: BSD-3-Clause
# Toolchain: clang for WebAssembly with the C library of Debian's wasi-libc.
set(CMAKE_SYSTEM_NAME Generic)
set(CMAKE_SYSTEM_PROCESSOR wasm32)
set(CMAKE_C_COMPILER clang)
# Other archivers give archives of WebAssembly no index, which its linker needs.
find_program(CMAKE_AR NAMES llvm-ar llvm-ar-14 REQUIRED)
find_program(CMAKE_RANLIB NAMES llvm-ranlib llvm-ranlib-14 REQUIRED)
set(CMAKE_C_COMPILER_TARGET wasm32-wasi)
set(CMAKE_SYSROOT /usr)
set(CMAKE_TRY_COMPILE_TARGET_TYPE STATIC_LIBRARY)
# What the machine itself compiles and links with is not for WebAssembly.
set(CMAKE_C_STANDARD_INCLUDE_DIRECTORIES /usr/include/wasm32-wasi)
set(CMAKE_FIND_ROOT_PATH_MODE_LIBRARY NEVER)
set(CMAKE_FIND_ROOT_PATH_MODE_PACKAGE NEVER)
