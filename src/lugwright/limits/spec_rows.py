"""Every limit there is, in the order in which it is printed."""

from __future__ import annotations

from lugwright.limits.spec import LimitSpec, Tighter, Unit, by_name

OBJECTIVES = ("default", "shortest", "lowest-stacks", "cheapest", "weights")
# Names of `electrics/tables/bundle_factors.csv`, from the looser to the tighter where they compare.
BUNDLE_RULES = (
    *("none", "33-cfr-183", "nec-310-15", "iso-13297"),
    *("33-cfr-183-from-50v", "e11-ac", "e11-dc"),
)
STUD_KINDS = ("ring", "captive spade", "plain spade")
JOINING_KINDS = ("butt", "closed end")
LANDED_KINDS = (*STUD_KINDS, "push-on")
CRIMPED_KINDS = (*LANDED_KINDS, *JOINING_KINDS)
STAGES = ("bench", "aboard")
FACTORED_KINDS = ("bulb", "relay", "motor", "resistive")
WEIGHTS = {
    "length": "0.1 mm of wire",
    "stacked": "stacked lug",
    "fittings": "fitting",
    "money": "millionth of the currency",
}


def _length(
    name: str, meaning: str, most_mm: int, tighter: Tighter = "more", least_dmm: int = 0
) -> LimitSpec:
    field = f"{name}_dmm"
    return LimitSpec(
        name, "lengths", field, Unit.LENGTH, meaning, least_dmm, most_mm * 10, tighter=tighter
    )


def _flag(name: str, group: str, meaning: str, tighter: Tighter) -> LimitSpec:
    return LimitSpec(name, group, name, Unit.FLAG, meaning, 0, 1, tighter=tighter)


def _count(
    name: str, group: str, meaning: str, least: int, most: int, tighter: Tighter = "less"
) -> LimitSpec:
    return LimitSpec(name, group, name, Unit.COUNT, meaning, least, most, tighter=tighter)


def _choice(
    name: str, group: str, meaning: str, choices: tuple[str, ...], tighter: Tighter = "listed"
) -> LimitSpec:
    return LimitSpec(name, group, name, Unit.CHOICE, meaning, choices=choices, tighter=tighter)


def _kinds(name: str, meaning: str, choices: tuple[str, ...]) -> LimitSpec:
    return LimitSpec(name, "barrels", name, Unit.KINDS, meaning, choices=choices, tighter="less")


def _share(
    name: str, field: str, meaning: str, least: int, most: int, tighter: Tighter = "less"
) -> LimitSpec:
    return LimitSpec(name, "electricity", field, Unit.SHARE, meaning, least, most, tighter=tighter)


_LENGTHS = (
    LimitSpec(
        "slack",
        "lengths",
        "slack_permille",
        Unit.SHARE,
        "How much longer than its path a jumper is cut.",
        0,
        1000,
    ),
    _length(
        "end_allowance", "Added at each end of a jumper for stripping and crimping.", 500, "none"
    ),
    _length("cut_step", "Jumpers are cut to a multiple of this, rounded up.", 100, "none", 1),
    LimitSpec(
        "standard_lengths",
        "lengths",
        "standard_lengths_dmm",
        Unit.LENGTHS,
        "Jumpers are cut to the shortest of these that is long enough, where one is.",
        10,
        50_000,
    ),
    _length(
        "minimum_jumper", "No jumper is cut shorter: fittings, sleeve and bend need room.", 1000
    ),
    _length("splice_to_post", "Shortest path between a splice and a post.", 1000),
    _length("dress_height", "Height of a splice point that lies at no tie point.", 300, "none"),
    _length("clearance", "Room between a wire and a body, keep-out or driver it goes round.", 100),
    _length("nut_driver_room", "Room round a nut for its driver, beyond the nut itself.", 50),
    _length("drip_loop", "Left in a pigtail or boat wire so that water drips off.", 1000),
    _length(
        "re_termination",
        "Wire lost when a fitting is cut off and crimped again; counted twice.",
        200,
    ),
    _length("support_distance", "Longest run of wire between two ties.", 2000, "less", 100),
    _length("edge_margin", "Plate left between a cut-out and the panel's edge.", 200),
    _length(
        "full_size_side",
        "Longest side of a drawing that is printed at 1:1 without --full-size.",
        5000,
        "none",
        100,
    ),
    _length("strip_clearance", "Bare wire showing between insulation and barrel.", 5, "none"),
)

_HUB = (
    _flag("one_hub", "hub", "One instrument is the hub of all circuits.", "more"),
    _choice(
        "lamp_take_off",
        "hub",
        "Where lamp jumpers leave ignition: at the landing post only, or at any stud.",
        ("any", "landing"),
    ),
    _choice(
        "way_take_off",
        "hub",
        "What leaves a way's far post: one jumper, to the landing post on the hub, or any number.",
        ("one", "any"),
        "none",
    ),
    _choice(
        "wire_size_choice",
        "hub",
        "One wire size for a whole circuit, or one for each jumper.",
        ("jumper", "circuit"),
    ),
    _flag("extensions", "hub", "A pigtail out of reach may be lengthened by a butt.", "less"),
    _flag("splices", "hub", "Wires may be joined in mid-air.", "less"),
    _count(
        "splice_neighbours",
        "hub",
        "How many nearest posts of a circuit count as near when splice points are laid out.",
        2,
        8,  # the time to lay them out grows with about its square
        "none",
    ),
)

_BARRELS = (
    _choice(
        "pigtail_barrel",
        "barrels",
        "Whether a pigtail's bare end shares a barrel on a post with bench wires, or has its own.",
        ("shared", "own"),
    ),
    _count("wires_per_barrel", "barrels", "Most wire ends in one barrel.", 1, 10),
    _count(
        "wires_per_splice", "barrels", "Most wire ends in one splice, all halves together.", 3, 12
    ),
    LimitSpec(
        "size_ratio",
        "barrels",
        "size_ratio_permille",
        Unit.RATIO,
        "Largest over smallest strand area in one barrel.",
        1000,
        100_000,
        tighter="less",
    ),
    _flag("fold_back", "barrels", "A lone wire may be folded back to fill its barrel.", "less"),
    _kinds("stud_kinds", "Kinds of lug a stud may take.", STUD_KINDS),
    _kinds("lead_kinds", "Kinds of joint a flying lead may take.", JOINING_KINDS),
    _kinds("splice_kinds", "Kinds of fitting a splice point may take.", JOINING_KINDS),
)

_STUDS = (
    _count("lugs_per_stud", "studs", "Most lugs (or conductors) on one stud.", 1, 20),
    _choice(
        "stud_count",
        "studs",
        "What is counted on a stud: lugs, or the conductors in them.",
        ("lugs", "conductors"),
    ),
    _flag("lock_washer", "studs", "A lock washer goes under every nut.", "more"),
    LimitSpec(
        "showing_thread",
        "studs",
        "showing_thread_permille",
        Unit.PITCHES,
        "Thread that shows beyond the nut, in pitches.",
        0,
        10_000,
        tighter="more",
    ),
)

_SWITCH_FACTORS = tuple(
    LimitSpec(
        f"switch_{volts}v.{kind}",
        "electricity",
        f"switch_{volts}v_permille",
        Unit.RATIO,
        f"What a switch on {volts} V must carry for each ampere of load: {kind}.",
        1000,
        20_000,
        tighter="more",
        keys=(kind,),
    )
    for volts in (12, 24)
    for kind in FACTORED_KINDS
)
_ELECTRICITY = (
    LimitSpec(
        "conductor_temperature",
        "electricity",
        "conductor_temp_c",
        Unit.TEMPERATURE,
        "Conductor temperature at which resistance is taken.",
        0,
        200,
        tighter="more",
    ),
    _share(
        "stranding",
        "stranding_permille",
        "How much more stranded wire resists than solid copper of its area.",
        0,
        500,
        "more",
    ),
    _share("drop_critical", "drop_critical_permille", "Drop allowed to a critical load.", 1, 1000),
    _share("drop_other", "drop_other_permille", "Drop allowed to any other load.", 1, 1000),
    LimitSpec(
        "crimp_resistance",
        "electricity",
        "crimp_uohm",
        Unit.RESISTANCE,
        "Resistance of one crimped wire end.",
        0,
        1_000_000,
        tighter="more",
    ),
    LimitSpec(
        "ground_shift",
        "electricity",
        "ground_shift_mv",
        Unit.VOLTS_OR_OFF,
        "Most volts between a dial's ground and its sender's ground return, lamps on.",
        1,
        10_000,
        tighter="less",
    ),
    _count(
        "off_loom_conductors",
        "electricity",
        "Conductors taken to run together where wires lie off a loom.",
        1,
        100,
        "more",
    ),
    _choice(
        "bundle_rule",
        "electricity",
        "Whose bundle factors reduce ampacity where conductors run together.",
        BUNDLE_RULES,
    ),
    _share("fuse_share", "fuse_permille", "Largest fuse over a conductor's ampacity.", 10, 1500),
    _share("load_share", "load_permille", "Largest load over its fuse.", 10, 1000),
    LimitSpec(
        "fuse_distance",
        "electricity",
        "fuse_distance_dmm",
        Unit.LENGTH,
        "Longest conductor between the source and its fuse.",
        0,
        50_000,
        tighter="less",
    ),
    LimitSpec(
        "minimum_size",
        "electricity",
        "minimum_size",
        Unit.WIRE_SIZE,
        "Smallest wire size of a jumper or extension.",
        0,
        500_000_000,
        tighter="more",
    ),
    *_SWITCH_FACTORS,
)


def _minutes(name: str, field: str, meaning: str, keys: tuple[str, ...] = ()) -> LimitSpec:
    return LimitSpec(name, "money", field, Unit.MINUTES, meaning, 0, 60_000, keys=keys)


_FITTING_MINUTES = tuple(
    _minutes(
        f"minutes_fitting.{kind}",
        "minutes_fitting_cmin",
        f"Bench time to strip for and crimp one fitting: {kind}.",
        (kind,),
    )
    for kind in CRIMPED_KINDS
)
_LANDING_MINUTES = tuple(
    _minutes(
        f"minutes_landing.{kind}.{stage}",
        "minutes_landing_cmin",
        f"Time to put one on its post, {stage}: {kind}.",
        (kind, stage),
    )
    for kind in LANDED_KINDS
    for stage in STAGES
)

_MONEY = (
    LimitSpec("currency", "money", "currency", Unit.CURRENCY, "The currency of every price."),
    LimitSpec(
        "rate",
        "money",
        "rate_micro_per_hour",
        Unit.MONEY_PER_HOUR,
        "What an hour of bench time costs.",
        0,
        10_000_000_000,
    ),
    _minutes("minutes_cut", "minutes_cut_cmin", "Bench time to cut one jumper."),
    *_FITTING_MINUTES,
    *_LANDING_MINUTES,
)

_OBJECTIVE = (
    _choice("objective", "objective", "What is minimised.", OBJECTIVES, "none"),
    LimitSpec(
        "lug_worth",
        "objective",
        "lug_worth_dmm",
        Unit.LENGTH,
        "Wire one stacked lug is worth (default objective).",
        0,
        100_000,
    ),
    LimitSpec(
        "fitting_worth",
        "objective",
        "fitting_worth_dmm",
        Unit.LENGTH,
        "Wire one fitting is worth (default objective).",
        0,
        100_000,
    ),
    *(
        LimitSpec(
            f"weights.{name}",
            "objective",
            "weights",
            Unit.COUNT,
            f"Weight of one {what} (objective weights).",
            0,
            1_000_000_000,
            keys=(name,),
        )
        for name, what in WEIGHTS.items()
    ),
)

SPECS = (*_LENGTHS, *_HUB, *_BARRELS, *_STUDS, *_ELECTRICITY, *_MONEY, *_OBJECTIVE)
SPEC_BY_NAME = by_name(SPECS)
