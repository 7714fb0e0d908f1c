"""Names that say what a part is are taken at their word, whatever else the file says."""

from __future__ import annotations

import pytest
from support.scenario_text import SKETCH, console_of, own_dial

from lugwright.base.errors import BadInput

ACCESSORY = '[[circuit]]\nname = "accessory"\ntaken_from = "ignition"\n'
PIGTAIL = (
    '  { circuit = "accessory", colour = "orange", wire_size = "16 AWG", reach = "450 mm", '
    'fuse = "5 A" },\n  { label = "tachometer"'
)


def _boat_block(name: str, post: str, role: str = "") -> str:
    said = f'role = "{role}"\n' if role else ""
    wire = f'{{ lands_on = "{post}", wire_size = "18 AWG", colour = "pink" }}'
    return f'[[boat_wires]]\nname = "{name}"\n{said}current = "0.2 A"\nwires = [{wire}]\n'


@pytest.mark.parametrize(
    "name",
    [
        *("kill lanyard", "toggle", "rocker", "push button", "stop button", "battery disconnect"),
        *("cut-off", "cut off", "thermostat", "changeover", "ignition lock", "starter", "MCB"),
    ],
)
def test_device_with_a_load_at_both_sides(name: str) -> None:
    """Loads at both posts do not make a dial of what is called a switch."""
    drawn = own_dial("", "accessory").replace('name = "trim"', f'name = "{name}"')
    with pytest.raises(BadInput, match="maker's diagram; leave it out of this plan"):
        console_of(f"{SKETCH}\n{drawn}\n{ACCESSORY}")


def test_dial_with_a_load_at_both_posts() -> None:
    """The same drawing under a dial's name is a dial."""
    console = console_of(f"{SKETCH}\n{own_dial('', 'accessory')}\n{ACCESSORY}")
    assert console.post("trim.accessory").circuit == "accessory"


@pytest.mark.parametrize("name", ["oil-sender", "oil_sender", "oil senders", "oil sending unit"])
def test_sender_on_a_feed(name: str) -> None:
    """However its name is written, a sender's wire is no load on a feed."""
    with pytest.raises(BadInput, match="a sender's wire lands on a feed"):
        console_of(f"{SKETCH}\n{_boat_block(name, 'fuel.ignition')}")


def test_sender_called_a_load() -> None:
    """Name and role that say two things are not settled in favour of power."""
    with pytest.raises(BadInput, match="its name says sender, and its wire lands on a feed"):
        console_of(f"{SKETCH}\n{_boat_block('oil sender', 'fuel.ignition', 'load')}")


def test_signal_post_of_the_library_on_a_further_feed() -> None:
    """A wire from the boat does not turn a sender's post into one that takes power."""
    text = SKETCH.split("[[boat_wires]]")[0].replace('  { label = "tachometer"', PIGTAIL)
    dial = 'pattern = "dial-52"'
    text = text.replace(dial, f'{dial}\nfeeds = {{ signal = "accessory" }}')
    with pytest.raises(BadInput, match=r'post "signal" takes nothing .* with a load of its own'):
        console_of(f"{text}\n{_boat_block('horn', 'fuel.signal', 'load')}")


def test_two_keys_are_not_joined() -> None:
    """What is said of two pigtails of one name does not send both engines' dials to one key."""
    pigtail = PIGTAIL.replace("accessory", "ignition")
    with pytest.raises(BadInput, match="give each a circuit of its own name"):
        console_of(SKETCH.replace('  { label = "tachometer"', pigtail))


def test_lamp_that_returns_by_a_wire_from_the_boat() -> None:
    """A warning lamp between a feed and a pressure switch is left out, not put to ground."""
    dial = own_dial("", "ignition2").replace('ground = "ground"', 'ground = "out"')
    stud = '{ kind = "stud", function = "'
    dial = dial.replace(f"ground = {stud}ground", f"out = {stud}signal")
    dial = dial.replace('"ignition2"', '"ignition"').replace("ignition2 =", "second =")
    with pytest.raises(BadInput, match=r"has no way back: .* leave it out of this plan"):
        console_of(f"{SKETCH}\n{dial}")


GROUNDS = """
[[instrument]]
name = "{name}"
centre = ["40 mm", "30 mm"]
[instrument.geometry]
cut_out = "22 mm"
body = "22 mm"
bezel = "28 mm"
body_depth = "40 mm"
{loads}
[instrument.geometry.posts.x]
kind = "stud"
function = "ground"
at = ["-8 mm", "0 mm"]
height = "41 mm"
thread = "#8-32"
free_thread = "10 mm"
{x}
[instrument.geometry.posts.y]
kind = "stud"
function = "ground"
at = ["8 mm", "0 mm"]
height = "41 mm"
thread = "#8-32"
free_thread = "10 mm"
{y}
"""


@pytest.mark.parametrize("name", ["battery selector", "panel 1"])
@pytest.mark.parametrize(
    ("x", "y"), [("", ""), ('link = "one"', 'link = "two"'), ('link = "one"', "")]
)
def test_two_ground_posts_that_no_metal_joins(name: str, x: str, y: str) -> None:
    """A switch in the ground looks just so: a jumper would run from one side to the other."""
    drawn = GROUNDS.format(name=name, loads="", x=x, y=y)
    with pytest.raises(BadInput, match=r"pass round what is between them .*leave it out"):
        console_of(f"{SKETCH}\n{drawn}")


def test_two_ground_posts_of_one_metal() -> None:
    """A bar of two studs is no device."""
    link = 'link = "bar"'
    console = console_of(f"{SKETCH}\n{GROUNDS.format(name='bar', loads='', x=link, y=link)}")
    assert {console.post(post).circuit for post in ("bar.x", "bar.y")} == {"ground"}


def test_wires_on_ground_alone_are_asked_about() -> None:
    """A charge lamp's wire that lands on a ground post would short the alternator."""
    text = _boat_block("alternator D", "fuel.ground").replace('current = "0.2 A"\n', "")
    with pytest.raises(BadInput, match=r'what is "alternator D"\? It lands on ground alone'):
        console_of(f"{SKETCH}\n{text}")


@pytest.mark.parametrize("post", ["fuel.ignition", "fuel.ground"])
def test_what_a_wire_is_for_is_asked(post: str) -> None:
    """Where neither role nor a signal post says it, nothing is taken for a load."""
    with pytest.raises(BadInput, match=r'"role" is missing: is "horn" a load or a sender\?'):
        console_of(f"{SKETCH}\n{_boat_block('horn', post)}")


def test_a_signal_post_says_what_lands_on_it() -> None:
    """There the role need not be written, nor is it where it is written."""
    for role in ("", "signal"):
        text = SKETCH.split("[[boat_wires]]")[0] + _boat_block("fuel tank", "fuel.signal", role)
        assert [block.is_sender for block in console_of(text).boat_blocks] == [True]


def test_stop_wire_is_no_load() -> None:
    """It may hold over 100 V while the engine turns, and must meet no feed."""
    text = _boat_block("stop wire", "fuel.ground")
    with pytest.raises(BadInput, match="a stop circuit meets no feed"):
        console_of(f"{SKETCH}\n{text}")


def test_kill_lanyard_as_a_switch_in_a_feed() -> None:
    """Written as a switch it would put key-on power on the magneto."""
    drawn = GROUNDS.format(name="kill lanyard", loads="", x="", y="")
    drawn = drawn.replace('function = "ground"', 'function = "ignition"', 1)
    drawn = drawn.replace('function = "ground"', 'function = "load"', 1)
    wire = _boat_block("relay", "kill lanyard.y", "load")
    with pytest.raises(BadInput, match=r"stops an engine.*cannot be said here"):
        console_of(f"{SKETCH}\n{drawn}\n{wire}")
