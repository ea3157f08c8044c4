# What `cmake --install` puts where, and the package made from it. Included from the top.
include(GNUInstallDirs)
set(DESKTOP ${CMAKE_SOURCE_DIR}/assets/desktop)
set(NAME example.padchart.Padchart) # reverse domain name of a domain that cannot exist (RFC 2606)

# The manual page and the completions are printed by the program itself; compressed without a time stamp, so that two
# builds give the same bytes.
find_program(GZIP gzip REQUIRED)
set(MADE ${CMAKE_BINARY_DIR}/desktop)
file(MAKE_DIRECTORY ${MADE})
add_custom_command(OUTPUT ${MADE}/padchart.1.gz
    COMMAND padchart manual > ${MADE}/padchart.1
    COMMAND ${GZIP} -9nc ${MADE}/padchart.1 > ${MADE}/padchart.1.gz
    DEPENDS padchart VERBATIM)
add_custom_command(OUTPUT ${MADE}/changelog.gz
    COMMAND ${GZIP} -9nc ${DESKTOP}/changelog > ${MADE}/changelog.gz
    DEPENDS ${DESKTOP}/changelog VERBATIM)
set(COMPLETIONS)
foreach(SHELL IN ITEMS bash zsh fish)
    add_custom_command(OUTPUT ${MADE}/completion.${SHELL}
        COMMAND padchart completion ${SHELL} > ${MADE}/completion.${SHELL}
        DEPENDS padchart VERBATIM)
    list(APPEND COMPLETIONS ${MADE}/completion.${SHELL})
endforeach()
add_custom_target(desktop_files ALL DEPENDS ${MADE}/padchart.1.gz ${MADE}/changelog.gz ${COMPLETIONS})

install(TARGETS padchart DESTINATION ${CMAKE_INSTALL_BINDIR})
install(FILES ${MADE}/padchart.1.gz DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${MADE}/completion.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME padchart)
install(FILES ${MADE}/completion.zsh DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions RENAME _padchart)
install(FILES ${MADE}/completion.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d
    RENAME padchart.fish)
install(FILES ${DESKTOP}/copyright ${MADE}/changelog.gz DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(FILES ${CMAKE_SOURCE_DIR}/assets/chart.schema.json ${CMAKE_SOURCE_DIR}/assets/pattern.schema.json
    DESTINATION ${CMAKE_INSTALL_DATADIR}/padchart)
install(FILES ${CMAKE_SOURCE_DIR}/demo/river-logger.chart.json ${CMAKE_SOURCE_DIR}/demo/power-corner.svg
    DESTINATION ${CMAKE_INSTALL_DATADIR}/padchart/demo)
if(PADCHART_WINDOW)
    install(TARGETS padchart-window DESTINATION ${CMAKE_INSTALL_BINDIR})
    install(CODE "file(CREATE_LINK padchart.1.gz \"\$ENV{DESTDIR}\${CMAKE_INSTALL_PREFIX}/${CMAKE_INSTALL_MANDIR}/man1/padchart-window.1.gz\" SYMBOLIC)")
    install(FILES ${DESKTOP}/${NAME}.desktop DESTINATION ${CMAKE_INSTALL_DATADIR}/applications)
    install(FILES ${DESKTOP}/${NAME}.metainfo.xml DESTINATION ${CMAKE_INSTALL_DATADIR}/metainfo)
    install(FILES ${DESKTOP}/padchart.xml DESTINATION ${CMAKE_INSTALL_DATADIR}/mime/packages)
    install(FILES ${DESKTOP}/${NAME}.svg DESTINATION ${CMAKE_INSTALL_DATADIR}/icons/hicolor/scalable/apps)
endif()

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME padchart)
set(CPACK_PACKAGE_VENDOR "The Padchart engineers")
set(CPACK_PACKAGE_CONTACT "The Padchart engineers <engineers@padchart.example>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "chart a region of a circuit board before hot-air rework")
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION "A traced drawing becomes the outline and the pads of a small board in true
millimetres. Padchart tells which parts could be soldered back the wrong way
round, where hot air should not be aimed and how hot the neighbours get, from
which side tweezers come in, and what changed between before and after.
.
Temperatures are estimates: check with a thermocouple.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS
    OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION electronics)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_DEPENDS "fonts-inter | fonts-dejavu-core")
set(CPACK_DEBIAN_PACKAGE_RECOMMENDS "fonts-dejavu-core, libgl1-mesa-dri")
set(CPACK_DEBIAN_PACKAGE_SUGGESTS "git")
include(CPack)
