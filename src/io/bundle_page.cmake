# Copies the sources of the page and has npm bundle them: cmake -DFROM=... -DTO=... -DBUNDLE=... -DNPM=... -P bundle_page.cmake
file(
  COPY ${FROM}/
  DESTINATION ${TO}
  PATTERN node_modules EXCLUDE
  PATTERN dist EXCLUDE)
file(REMOVE_RECURSE ${BUNDLE})
file(MAKE_DIRECTORY ${BUNDLE})
# The packages anew only where their list is another.
file(SHA256 ${TO}/package-lock.json wanted)
set(there "")
if(EXISTS ${TO}/node_modules/.lock-sum)
  file(READ ${TO}/node_modules/.lock-sum there)
endif()
if(NOT there STREQUAL wanted)
  execute_process(
    COMMAND ${NPM} ci --no-audit --no-fund --loglevel=error
    WORKING_DIRECTORY ${TO}
    RESULT_VARIABLE failed)
  if(failed)
    message(FATAL_ERROR "npm could not get the packages of the page; -DSHEDBOOK_PAGE=OFF builds without it")
  endif()
  file(WRITE ${TO}/node_modules/.lock-sum ${wanted})
endif()
execute_process(
  COMMAND ${NPM} run --silent build -- --outdir ${BUNDLE}
  WORKING_DIRECTORY ${TO}
  RESULT_VARIABLE failed)
if(failed)
  message(FATAL_ERROR "the page could not be bundled; -DSHEDBOOK_PAGE=OFF builds without it")
endif()
