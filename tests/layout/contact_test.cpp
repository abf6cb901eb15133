#include "layout/contact.h"

#include <catch.hpp>

#include "oracle/contact.h"
#include "oracle/ratios.h"
#include "oracle/tops.h"

using namespace motley;
using layout::Contact;
using layout::Contacts;

TEST_CASE("a plain square touches four others along edges, four at corners, and none further off") {
    const Contacts contacts(oracle::forms_of("plain-square"), layout::Board(9, 9));
    for (int dr = -2; dr <= 2; ++dr)
        for (int dc = -2; dc <= 2; ++dc) {
            const int steps = std::abs(dr) + std::abs(dc), far = std::max(std::abs(dr), std::abs(dc));
            const Contact expected = far != 1 ? Contact::none : steps == 1 ? Contact::edge : Contact::corner;
            for (int turn = 0; turn < 16; ++turn)
                CHECK(contacts.between(0, dr, dc, 0, turn / 4, 0, turn % 4) == expected);
        }
}

TEST_CASE("half-square triangles of all turns touch as the points of their borders say") {
    const Contacts contacts(oracle::forms_of("half-square-triangle"), layout::Board(9, 9));
    int edges = 0, corners = 0;
    for (int dr = -2; dr <= 2; ++dr)
        for (int dc = -2; dc <= 2; ++dc)
            for (int way = 0; way < 64; ++way) {
                const int p = way & 1, q = way >> 1 & 1, t = way >> 2 & 3, u = way >> 4;
                const Contact found = contacts.between(0, dr, dc, p, t, q, u);
                INFO("step " << dr << " " << dc << ", patch " << p << " turned " << t << ", patch " << q
                             << " turned " << u);
                CHECK(found == oracle::contact(2, dr, dc, p, t, q, u));
                CHECK(found == contacts.between(0, -dr, -dc, q, u, p, t));
                edges += found == Contact::edge;
                corners += found == Contact::corner;
            }
    // Across each of the 4 borders, 16 pairs of turns show one pair of patches with an edge each.
    CHECK(edges == 64);
    CHECK(corners > 0);
}

TEST_CASE("distances run between centroids") {
    for (const char* recipe : {"plain-square", "half-square-triangle"}) {
        const auto forms = oracle::forms_of(recipe);
        const Contacts contacts(forms, layout::Board(9, 9));
        const int patches = static_cast<int>(forms.front().patches.size());
        for (int p = 0; p < patches; ++p)
            for (int q = 0; q < patches; ++q)
                for (int turns = 0; turns < 16; ++turns)
                    for (int step = 0; step < 35; ++step) {
                        const int dr = step / 7 - 2, dc = step % 7 - 3;
                        const oracle::Centre a = oracle::centre(patches, p, turns / 4),
                                             b = oracle::centre(patches, q, turns % 4);
                        const double d2 =
                            (b.x - a.x + dc) * (b.x - a.x + dc) + (b.y - a.y + dr) * (b.y - a.y + dr);
                        CHECK(contacts.distance_squared(0, dr, dc, p, turns / 4, q, turns % 4) ==
                              Approx(d2).margin(1e-12));
                    }
    }
}
