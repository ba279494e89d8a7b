"""What the demonstration is made of: every name and figure invented."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

WATER, WAFTER, SINKER = "Long Reedpool", "copper-wafter", "chalk-sinker"
PACK = "wafters, bag of 20"
INVENTED = "Invented, for the demonstration."
SHELF = (
    # item, amount, money, days it keeps, supplier, lot
    ("Eggs", "60", "14.40", 75, "Osier Farm", "E-31"),
    ("semolina", "10 kg", "9.50", 400, "Reedmill", "S-881"),
    ("maize-meal-fine", "5 kg", "6.20", 320, "Reedmill", "M-120"),
    ("maize-meal-coarse", "2 kg", "2.60", 320, "Reedmill", "M-121"),
    ("soya-flour-roasted", "5 kg", "8.90", 250, "Reedmill", "Y-044"),
    ("brewers-yeast", "2 kg", "11.00", 300, "Reedmill", "B-17"),
    ("liver-powder", "2 kg", "19.80", 85, "Withybed Supplies", "L-9"),
    ("egg-albumen", "1 kg", "16.40", 500, "Withybed Supplies", "A-3"),
    ("Malt", "500 ml", "14.50", 700, "Withybed Supplies", "F-210"),
    ("Caraway oil", "50 ml", "12.00", 600, "Withybed Supplies", "F-211"),
    ("Yeast extract", "500 ml", "9.90", 400, "Withybed Supplies", "F-212"),
    ("cork-ball 9 mm", "1500", "60.00", 0, "Withybed Supplies", "C-9"),
    ("cork-ball 8 mm", "500", "18.00", 0, "Withybed Supplies", "C-8"),
    ("bag", "100", "4.00", 0, "Withybed Supplies", ""),
    ("label", "100", "3.00", 0, "Withybed Supplies", ""),
)
SHEETS: Mapping[str, Mapping[str, Any]] = {
    "Malt": {
        "carrier": "propylene glycol",
        "hazards": "H317",
        "flash_point": "101 C",
        "toxicity": "oral 9000 mg/kg",
        "lot": "F-210",
        "times_as_strong": 1.2,
    },
    "Caraway oil": {
        "carrier": "essential oil",
        "hazards": "H226; H304; H315; H317; H411",
        "flash_point": "58 C",
        "toxicity": "oral 3500 mg/kg",
    },
}
RULES = {
    # its owner's, for a water that does not exist
    "nuts": "banned",
    "particles": "prepared only",
    "banned": "trout pellets; sweetener",
    "free_bait_most": "3 kg",
    "floating_baits": "hookbaits only",
    "lead": "banned",
    "barbed_hooks": "banned",
    "rigs": "the lead must come off when a fish is hung up",
    "rods_most": 2,
    "night_fishing": "by permit",
    "permit": "night ticket of Long Reedpool",
    "biosecurity": "dip net, mat and sling at the gate",
    "owner": "person 1",
    "source": "board at the gate",
}
NIGHTS = (
    # days ago, bites, fish, lost, weather, water
    (33, 1, 1, 0, "overcast, light west", "9 C"),
    (27, 0, 0, 0, "clear, frost by morning", "8 C"),
    (20, 2, 1, 1, "rain, falling glass", "8 C"),
    (13, 0, 0, 0, "still, fog", "7 C"),
    (6, 0, 0, 0, "north-east, cold", "6 C"),
    (3, 1, 1, 0, "mild, south-west", "6 C"),
)
