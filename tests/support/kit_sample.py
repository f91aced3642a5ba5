"""Two real jobs with a small price list of a shop that has too little, for the tests of kits."""

from decimal import Decimal
from functools import cache

from upgrade_planner.comparison.results import Policy
from upgrade_planner.configuration.tables.list_table import table_of
from upgrade_planner.kit.packing import OrderedUpgrade, packed, planned_job
from upgrade_planner.kit.prices.list_style import ListStyle
from upgrade_planner.kit.prices.price_lines import price_list
from upgrade_planner.kit.prices.shop_files import load_prices, shipped_shop

PAIRS = (
    OrderedUpgrade(configurations=("van_as_found", "van_upgraded"), times=2),
    OrderedUpgrade(configurations=("tractor_original", "tractor_upgraded")),
)
POOR = """number,article,size,insulation,colour,bore,sold_by,contains,price,stock,reels
C1,cable,6 SAE,GXL,RD,,reel,30 m,45,1,5
L1,cable,10 SAE,GXL,BU,,metre,,2.5,,1.9
T1,tie,,,,,pack,100,4,2,
G1,tag,,,,,each,,,5,
"""


@cache
def jobs():
    return tuple(planned_job(pair, Policy.REVERSIBLE) for pair in PAIRS)


@cache
def poor_kit(spare="0", of=None):
    """Most articles are not in the list; ties and some cable are."""
    prices = price_list(table_of("poor.csv", POOR.encode()), ListStyle(currency="EUR", mark="."))
    return packed(of or jobs(), prices, spare_percent=Decimal(spare))


@cache
def demo_kit(spare="0"):
    return packed(jobs(), load_prices(shipped_shop()), spare_percent=Decimal(spare), is_demo=True)
