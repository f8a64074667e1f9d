# SPDX-License-Identifier: BSD-3-Clause
# Runs in CPack, once what is packed is laid out: compressed pages of the manual, copyright and changelog, as Debian's policy has them.
file(GLOB stages ${CPACK_TEMPORARY_DIRECTORY}/program ${CPACK_TEMPORARY_DIRECTORY}/development)
foreach(stage ${stages})
  get_filename_component(component ${stage} NAME)
  set(package stallwright)
  if(component STREQUAL development)
    set(package libstallwright-dev)
  endif()
  file(GLOB_RECURSE pages ${stage}/usr/share/man/*.[0-9])
  foreach(page ${pages})
    execute_process(COMMAND gzip -9n ${page} COMMAND_ERROR_IS_FATAL ANY)
  endforeach()
  # A build looks for libraries where it found them. In Debian that is where every program looks.
  file(GLOB_RECURSE linked ${stage}/usr/bin/stallwright ${stage}/usr/lib/*.so ${stage}/usr/lib/*.so.*)
  foreach(file ${linked})
    if(NOT IS_SYMLINK ${file})
      file(RPATH_REMOVE FILE ${file})
    endif()
  endforeach()
  set(docs ${stage}/usr/share/doc/${package})
  # The licence is in the copyright; policy has it there alone.
  file(REMOVE ${docs}/LICENSE)
  file(COPY ${CPACK_SW_DEBIAN_FOLDER}/copyright ${CPACK_SW_DEBIAN_FOLDER}/changelog DESTINATION ${docs}
    FILE_PERMISSIONS OWNER_READ OWNER_WRITE GROUP_READ WORLD_READ)
  execute_process(COMMAND gzip -9n ${docs}/changelog COMMAND_ERROR_IS_FATAL ANY)
endforeach()
