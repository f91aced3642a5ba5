"""Sleeves, rings, barrels and bundles by their diameters, against published sizes and geometry."""

from math import pi, sin
from types import SimpleNamespace

import pytest
from every_case import every_case
from hypothesis import assume, given
from hypothesis import strategies as st

from upgrade_planner.configuration.end_fittings import EndFitting, Fastening
from upgrade_planner.configuration.model import Connection, Joint
from upgrade_planner.configuration.structuring.connections import SIZES
from upgrade_planner.configuration.values.barrels import barrel_for, splice_barrel_for
from upgrade_planner.configuration.values.sizes import SAE, SYSTEMS, parse_wire_size, sizes_in
from upgrade_planner.documents.words.articles import words_of
from upgrade_planner.electrical.heat_balance import outside_diameter_mm
from upgrade_planner.kit import diameters, ends
from upgrade_planner.kit.allowances import COLOURED_BARREL_MM
from upgrade_planner.kit.articles import Article, article, shelves, sorts

ALL_SIZES = [size for system in SYSTEMS for size in sizes_in(system)]
some_sizes = st.lists(st.sampled_from(ALL_SIZES), min_size=1, max_size=8)


@every_case(
    ("size", "words"),
    [
        # Colours and ranges: terminal maker table in the reference data, 22-16 red, 16-14 blue,
        # 12-10 yellow; 0.5-1.5, 1.5-2.5 and 4-6 mm².
        ("18 SAE", "red"),
        ("16 SAE", "red"),
        ("14 SAE", "blue"),
        ("12 AWG", "yellow"),
        ("10 SAE", "yellow"),
        ("1.5 mm²", "red"),
        ("2.5 mm²", "blue"),
        ("6 mm²", "yellow"),
        ("8 SAE", "plain barrel"),
        ("3 mm²", "plain barrel"),
        ("4 SAE", "plain barrel"),
    ],
)
def test_barrel_matches_the_colour_code(size, words):
    assert words in barrel_for(parse_wire_size(size))


@every_case(
    ("sizes", "words"),
    [
        # By hand: 0.78 + 0.78 = 1.56, over red's 1.5; 1.18 + 1.88 = 3.06; 2.96 + 4.73 = 7.69 mm².
        (("18 SAE", "18 SAE"), "1.5–2.5 mm² in all"),
        (("16 SAE", "14 SAE"), "4–6 mm² in all"),
        (("12 SAE", "10 SAE"), "up to 10 mm² in all"),
    ],
)
def test_splice_barrel_holds_all_the_copper(sizes, words):
    assert words in splice_barrel_for(parse_wire_size(size) for size in sizes)


class TestShrink:
    # TE094-TE101, AMS-DTL-23053/5 series: supplied bores. [in]
    BORES_IN = (0.093, 0.125, 0.187, 0.25, 0.375, 0.5, 0.75, 1.0)

    def test_sizes_are_those_of_the_series_and_shrink_to_a_third(self):
        known = diameters.shrink_sizes()
        supplied = [one.supplied_mm / 25.4 for one in known[: len(self.BORES_IN)]]
        assert supplied == pytest.approx(self.BORES_IN)
        for one in known:  # TE091: recovered / supplied bore of a 3:1 tube
            assert one.recovered_mm / one.supplied_mm == pytest.approx(0.333, abs=0.001)
            assert float(one.bore.removesuffix(" mm")) == pytest.approx(one.supplied_mm, rel=0.035)

    @every_case("size", ALL_SIZES)
    def test_sleeve_passes_over_the_barrel_and_grips_the_cable(self, size):
        sleeve = ends.end_shrink(size)
        assert sleeve.supplied_mm >= diameters.barrel_outside_mm(size)
        assert sleeve.recovered_mm <= outside_diameter_mm(size) <= sleeve.supplied_mm

    @given(st.floats(0.5, 30), st.floats(0.5, 30))
    def test_no_thinner_sleeve_would_do(self, over_mm, grips_mm):
        found = diameters.shrink_for(over_mm, grips_mm)
        fitting = [
            one
            for one in diameters.shrink_sizes()
            if one.supplied_mm >= over_mm and one.recovered_mm <= grips_mm
        ]
        if found is None:
            assert not fitting
        else:
            assert found.supplied_mm == min(one.supplied_mm for one in fitting)

    @given(some_sizes)
    def test_a_splice_always_has_a_sleeve(self, sizes):
        sleeve = ends.splice_shrink(sizes)
        assert sleeve in diameters.shrink_sizes()
        assume(sleeve is not diameters.shrink_sizes()[-1])  # beyond it there is no wider one
        assert sleeve.supplied_mm >= max(outside_diameter_mm(size) for size in sizes)

    @every_case(
        ("thick", "thin"),
        # Fusible links at their splices, four gauge numbers below the cable.
        [("14 SAE", "18 SAE"), ("10 SAE", "14 SAE"), ("6 SAE", "10 SAE"), ("2 mm²", "0.5 mm²")],
    )
    def test_a_sleeve_seals_a_link_to_its_cable(self, thick, thin):
        sizes = [parse_wire_size(thick), parse_wire_size(thin)]
        sleeve = ends.splice_shrink(sizes)
        thin_mm, thick_mm = sorted(map(outside_diameter_mm, sizes))
        assert sleeve.recovered_mm <= thin_mm
        assert sleeve.supplied_mm >= max(thick_mm, diameters.splice_outside_mm(sizes))

    def test_a_cut_piece_is_still_long_enough_when_shrunk(self):
        """TE092: up to 15 % of its length is lost."""
        sleeve = diameters.shrink_sizes()[2]
        material = ends.shrink_pieces(sleeve, ends.SHRUNK_SMALL_M, 2, "a")
        assert len(material.pieces) == 2
        assert all(float(piece) * 0.85 >= 0.030 for piece in material.pieces)


# TE064-TE077: stud diameters (in, or mm) and ring holes [mm].
STUDS_MM = {
    "M3.5": 3.5,
    "M4": 4,
    "M5": 5,
    "M6": 6,
    "M8": 8,
    "M10": 10,
    "M12": 12,
    "No. 6": 0.138 * 25.4,
    "No. 8": 0.164 * 25.4,
    "No. 10": 0.190 * 25.4,
    "1/4 in": 6.35,
    "5/16 in": 0.3125 * 25.4,
    "3/8 in": 0.375 * 25.4,
    "1/2 in": 12.7,
}


class TestRings:
    @every_case("stud", SIZES[Joint.STUD])
    def test_every_stud_of_the_profiles_has_a_ring_that_goes_over_it(self, stud):
        hole_mm = diameters.ring_hole_mm(stud)
        assert 0.2 <= hole_mm - STUDS_MM[stud] <= 1.0

    @every_case(
        ("stud", "hole_mm"),
        [("M4", 4.3), ("M5", 5.3), ("M6", 6.4), ("M8", 8.4), ("M10", 10.5), ("No. 10", 5.3)],
    )
    def test_published_holes(self, stud, hole_mm):
        assert diameters.ring_hole_mm(stud) == hole_mm

    def test_an_m10_stud_does_not_pass_a_three_eighths_ring(self):
        """TE069, note."""
        assert diameters.ring_hole_mm("3/8 in") < STUDS_MM["M10"]


class TestBundles:
    @every_case(
        ("number", "circles"),
        # Tightest circle round n equal ones, in their diameters: 1 + 1/sin(π/n), for 3 to 6;
        # seven lie as six round one.
        [(1, 1.0), (2, 2.0), *((n, 1 + 1 / sin(pi / n)) for n in range(3, 6)), (6, 3.0), (7, 3.0)],
    )
    def test_equal_wires_fit_in(self, number, circles):
        size = parse_wire_size("12 SAE")
        found = diameters.bundle_diameter_mm([size] * number) / outside_diameter_mm(size)
        assert circles - 1e-9 <= found <= 1.13 * circles

    @given(some_sizes, st.sampled_from(ALL_SIZES))
    def test_one_more_wire_never_makes_it_thinner(self, sizes, more):
        bundle = diameters.bundle_diameter_mm
        assert bundle([*sizes, more]) >= bundle(sizes)
        assert bundle(sizes) ** 2 >= sum(outside_diameter_mm(size) ** 2 for size in sizes) - 1e-9

    def test_no_wire_no_bundle(self):
        with pytest.raises(ValueError, match="at least one"):
            diameters.bundle_diameter_mm([])

    @given(st.floats(0.1, 120))
    def test_bore_takes_the_bundle(self, diameter_mm):
        assert float(diameters.bore_for(diameter_mm).removesuffix(" mm")) >= diameter_mm

    def test_tape_covers_the_loom_twice(self):
        """Half-lapped: twice the surface of a 10 mm loom of 1 m, over 19 mm of tape; thin turns."""
        surface_m2 = pi * 0.010 * 1.0
        assert diameters.tape_length_m(1.0, 10.0) == pytest.approx(2 * surface_m2 / 0.019, rel=0.05)


class TestArticles:
    def test_every_sort_lies_on_a_shelf(self):
        assert {sort.shelf for sort in sorts().values()} == set(shelves())
        assert {sort.unit for sort in sorts().values()} == {"m", "each", "ml"}

    def test_cable_in_words(self):
        words = words_of(article("cable", size="12 SAE", insulation="GXL", colour="RD"))
        assert words.replace("\N{NO-BREAK SPACE}", " ") == "Cable 12 SAE (about 3 mm²), GXL, RD red"

    def test_traits_stand_in_the_order_of_the_list(self):
        made = article("cable", colour="RD", size="12 SAE", insulation="GXL")
        assert [name for name, _ in made.traits] == ["size", "insulation", "colour"]
        assert made.trait("colour") == "RD"

    def test_wrong_traits_are_refused(self):
        with pytest.raises(ValueError, match="has the traits"):
            article("cable", size="12 SAE")
        with pytest.raises(KeyError):
            article("string", length="long")

    def test_terminal_words_name_the_cables_of_a_splice(self):
        sizes = [parse_wire_size("12 SAE"), parse_wire_size("16 SAE")]
        wires = tuple(SimpleNamespace(size=size) for size in sizes)
        fitting = EndFitting(fastening=Fastening.BARREL, wires=wires, is_new=True)
        made = ends.fitting_article(fitting, Connection(Joint.SPLICE), SAE)
        assert isinstance(made, Article)
        assert words_of(made) == "Crimp splice, 4–6 mm² in all"

    def test_every_colour_has_a_collar(self):
        colours = {barrel_for(size).rpartition("(")[2].rstrip(")") for size in ALL_SIZES}
        assert {c for c in colours if "plain" not in c} == set(COLOURED_BARREL_MM)
