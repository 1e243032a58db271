# Puts the files of a folder into a source as they are: cmake -DOUTPUT=... -DBUNDLE=FOLDER -P embed_page.cmake
# The assembler takes them in, which is quick whatever their size.
file(GLOB files ${BUNDLE}/*)
list(SORT files)
set(bytes "")
set(symbols "")
set(rows "")
set(number 0)
foreach(path IN LISTS files)
  get_filename_component(name ${path} NAME)
  set(symbol "shedbook_page_${number}")
  string(APPEND bytes "asm(\".section .rodata\\n.balign 16\\n.global ${symbol}\\n${symbol}:\\n.incbin \\\"${path}\\\"\\n\"\n"
                      "    \".global ${symbol}_end\\n${symbol}_end:\\n.byte 0\\n.text\\n\");\n")
  string(APPEND symbols "extern const char ${symbol}[];\nextern const char ${symbol}_end[];\n")
  string(APPEND rows "        {\"${name}\", {${symbol}, static_cast<std::size_t>(${symbol}_end - ${symbol})}},\n")
  math(EXPR number "${number} + 1")
endforeach()
file(
  WRITE ${OUTPUT}
  "#include \"shedbook/io/embedded.h\"\n\n${bytes}\nextern \"C\" {\n${symbols}}\n\n"
  "namespace shedbook {\n\nstd::map<std::string, std::string_view> page_files() {\n    return {\n${rows}    };\n}\n\n}  // namespace shedbook\n")
