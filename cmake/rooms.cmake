# spile_room(NAME FOLDER dep...): one static library per folder, named spile_NAME.
# A room takes every .cpp directly in its folder; who may include whom is held by tests/house.
function(spile_room name folder)
  file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/${folder}/*.cpp)
  if(sources)
    add_library(spile_${name} STATIC ${sources})
    target_include_directories(spile_${name} PUBLIC ${CMAKE_SOURCE_DIR})
    target_link_libraries(spile_${name} PUBLIC ${ARGN})
  else()
    add_library(spile_${name} INTERFACE)
    target_include_directories(spile_${name} INTERFACE ${CMAKE_SOURCE_DIR})
    target_link_libraries(spile_${name} INTERFACE ${ARGN})
  endif()
endfunction()

# spile_test(ROOM lib...): tests/ROOM/*_test.cpp become one program, each TEST one entry of ctest.
function(spile_test room)
  file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/tests/${room}/*.cpp)
  if(NOT sources)
    return()
  endif()
  string(REPLACE "/" "_" program test_${room})
  add_executable(${program} ${sources})
  target_link_libraries(${program} PRIVATE ${ARGN} GTest::gtest GTest::gmock GTest::gtest_main)
  target_compile_definitions(${program} PRIVATE
    SPILE_SOURCE_DIR="${CMAKE_SOURCE_DIR}" SPILE_BINARY_DIR="${CMAKE_BINARY_DIR}")
  gtest_discover_tests(${program} TEST_PREFIX "${room}/" DISCOVERY_MODE PRE_TEST
    PROPERTIES TIMEOUT 300)
endfunction()
