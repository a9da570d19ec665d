#include "export/draw/fonts.h"

#include <cairo-ft.h>
#include <ft2build.h>
#include FT_FREETYPE_H

#include "core/base/check.h"

// The assembler copies the files in; CMake gives the folder and rebuilds this file when they change.
#define SPILE_INCLUDE_FONT(symbol, file)                                              \
    asm(".section .rodata\n"                                                          \
        ".balign 16\n" #symbol ":\n.incbin \"" SPILE_FONT_DIR "/" file "\"\n" #symbol \
        "_end:\n.byte 0\n.previous\n");                                               \
    extern "C" const char symbol[];                                                   \
    extern "C" const char symbol##_end[]

SPILE_INCLUDE_FONT(spile_font_regular, "Inter-Regular.otf");
SPILE_INCLUDE_FONT(spile_font_semibold, "Inter-SemiBold.otf");

namespace spile {
namespace {

struct Faces {
    cairo_font_face_t* regular;
    cairo_font_face_t* semibold;
};

cairo_font_face_t* load(FT_Library library, Weight weight) {
    const std::string_view bytes = font_bytes(weight);
    FT_Face face = nullptr;
    const FT_Error error = FT_New_Memory_Face(library, reinterpret_cast<const FT_Byte*>(bytes.data()),
                                              static_cast<FT_Long>(bytes.size()), 0, &face);
    SPILE_CHECK(error == 0);
    return cairo_ft_font_face_create_for_ft_face(face, FT_LOAD_NO_HINTING | FT_LOAD_NO_AUTOHINT);
}

}  // namespace

std::string_view font_bytes(Weight weight) {
    const bool semibold = weight == Weight::semibold;
    const char* begin = semibold ? spile_font_semibold : spile_font_regular;
    const char* end = semibold ? spile_font_semibold_end : spile_font_regular_end;
    return {begin, static_cast<std::size_t>(end - begin)};
}

cairo_font_face_t* font_face(Weight weight) {
    static const Faces faces = [] {
        FT_Library library = nullptr;
        SPILE_CHECK(FT_Init_FreeType(&library) == 0);
        return Faces{load(library, Weight::regular), load(library, Weight::semibold)};
    }();
    return weight == Weight::semibold ? faces.semibold : faces.regular;
}

}  // namespace spile
