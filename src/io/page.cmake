# The page: templates/page bundled by npm into the build folder, and its files put into the program as they are. Without npm the
# program is built all the same, and `serve` says what is missing.
option(SHEDBOOK_PAGE "Bundle the page of 'shedbook serve' (npm)" ON)
find_program(NPM npm)
set(page_sources ${PROJECT_SOURCE_DIR}/templates/page)
set(page_bundle ${CMAKE_CURRENT_BINARY_DIR}/page)
set(SHEDBOOK_PAGE_SOURCE ${CMAKE_CURRENT_BINARY_DIR}/page_files.cpp)
set(embed_page ${CMAKE_COMMAND} -DOUTPUT=${SHEDBOOK_PAGE_SOURCE} -DBUNDLE=${page_bundle} -P ${CMAKE_CURRENT_SOURCE_DIR}/embed_page.cmake)

if(SHEDBOOK_PAGE AND NPM AND EXISTS ${page_sources}/package-lock.json)
  file(GLOB_RECURSE page_files CONFIGURE_DEPENDS ${page_sources}/*)
  list(FILTER page_files EXCLUDE REGEX "/node_modules/|/dist/")
  # Its packages lie in the build folder: nothing is written among the sources.
  set(page_copy ${CMAKE_CURRENT_BINARY_DIR}/page_sources)
  add_custom_command(
    OUTPUT ${SHEDBOOK_PAGE_SOURCE}
    COMMAND ${CMAKE_COMMAND} -DFROM=${page_sources} -DTO=${page_copy} -DBUNDLE=${page_bundle} -DNPM=${NPM} -P
            ${CMAKE_CURRENT_SOURCE_DIR}/bundle_page.cmake
    COMMAND ${embed_page}
    DEPENDS ${page_files} ${CMAKE_CURRENT_SOURCE_DIR}/bundle_page.cmake ${CMAKE_CURRENT_SOURCE_DIR}/embed_page.cmake
    VERBATIM)
else()
  message(STATUS "the page of 'shedbook serve' is left out: npm is missing, or SHEDBOOK_PAGE is off")
  add_custom_command(
    OUTPUT ${SHEDBOOK_PAGE_SOURCE}
    COMMAND ${embed_page}
    DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/embed_page.cmake
    VERBATIM)
endif()
