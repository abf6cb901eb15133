#pragma once
/// Pieces on the printed card. Internal to `scene`.

#include <vector>

#include "scene/card.h"
#include "scene/light.h"
#include "scene/pose.h"
#include "scene/scene.h"

namespace motley::scene {

/// The card in the picture, its light known.
class OnCard {
public:
    OnCard(const Card& card, const Pose& pose, const photo::LinearImage& picture);

    /// The pieces inside the field; of the small card the largest upright stretch of what it lies on.
    std::vector<Piece> pieces(const Options& options);

private:
    Rgb seen_at(const Point& inches) const;                 ///< As the picture has it.
    Rgb colour_at(const Point& inches) const;               ///< Plain paper is 1.
    Rgb printed_at(const Point& inches, double blur) const; ///< Of the field, without cloth.
    Rgb spot(const Area& area) const; ///< Mean of the inner half of a printed area, as the picture has it.
    Point frame_at(const Point& inches) const;

    void add_paper(std::vector<Known>& known) const;
    void add_checks(std::vector<Known>& known, const Mask* lying) const;
    void find_tint(const Mask* lying);
    void light_up(const Mask* lying);
    bool bare(int column, int row, const Mask* lying) const;

    Mask lying() const;
    photo::LinearImage even_field() const;
    Piece piece(const Quad& inches, double margin) const;
    std::vector<Piece> beside(const Options& options) const;
    Area inner() const; ///< Of the field, inside its rim.

    const Card& card_;
    const Pose& pose_;
    const photo::LinearImage& picture_;
    Light light_;
    Rgb tint_{};
};

} // namespace motley::scene
