# The surface natively: for the server, and to compare the browser's answers with.
find_package(nlohmann_json REQUIRED)
file(GLOB surface_sources CONFIGURE_DEPENDS ${CMAKE_CURRENT_LIST_DIR}/*.cpp)
list(REMOVE_ITEM surface_sources ${CMAKE_CURRENT_LIST_DIR}/measure_lines.cpp ${CMAKE_CURRENT_LIST_DIR}/module.cpp)
add_library(spile_surface STATIC ${surface_sources})
target_include_directories(spile_surface PUBLIC ${CMAKE_SOURCE_DIR})
target_link_libraries(spile_surface PUBLIC spile_job spile_svg nlohmann_json::nlohmann_json)
