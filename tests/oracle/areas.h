#pragma once
/// Areas by Boost.Geometry, for cloth that Motley has cut with half-planes of its own. Slow to compile: one
/// test file.

#if defined(__GNUC__) && !defined(__clang__)
// g++ 12 takes Boost's boxes, filled by reference, for unfilled ones once it has inlined them.
#pragma GCC diagnostic ignored "-Wmaybe-uninitialized"
#endif
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/multi_polygon.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <vector>

#include "unit/plane.h"

namespace oracle {

/// Boost.Geometry rounds coordinates to a grid, some 1e-7 of their size, before it intersects.
inline constexpr double grid = 2e-5; ///< Of areas around 20.

using Spot = boost::geometry::model::d2::point_xy<double>;
using Region = boost::geometry::model::polygon<Spot>;
using Regions = boost::geometry::model::multi_polygon<Region>;

inline Region region(const motley::unit::Polygon& outline) {
    Region made;
    for (const auto& p : outline) boost::geometry::append(made.outer(), Spot(p.x, p.y));
    boost::geometry::correct(made);
    return made;
}

inline double area(const motley::unit::Polygon& outline) {
    return boost::geometry::area(region(outline));
}

inline double common_area(const motley::unit::Polygon& a, const motley::unit::Polygon& b) {
    Regions both;
    boost::geometry::intersection(region(a), region(b), both);
    return boost::geometry::area(both);
}

} // namespace oracle
