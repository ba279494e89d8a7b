"""A batch made in a real browser: timers over reload and restart, hands, keys, no script."""

from __future__ import annotations

import random
import re
import shutil
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import asdict
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, BrowserType, Page, expect
from playwright.sync_api import TimeoutError as PlaywrightTimeoutError

from baitwright.workshop.strip.bench_fold import BenchState, folded
from baitwright.workshop.strip.bench_strip import StripStep, Timing
from baitwright.workshop.strip.bench_tap import Tap, Tapped
from tests.web.access import COLOURS, no_violations
from tests.web.benches import BENCH, copied, with_a_batch
from tests.web.conftest import _ALONE, _CHROMIUM, Served, served

PHONE = {"width": 390, "height": 844}
BOIL = f"{BENCH}?step=10"


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("begun") / "notebook.sqlite"
    with_a_batch(place)
    return place


@pytest.fixture
def batch(begun: Path, place: Path) -> Path:
    copied(begun, place)
    return place


@pytest.fixture
def workshop(batch: Path) -> Iterator[Served]:
    with served(batch) as made:
        yield made


Opens = Callable[..., Page]


@pytest.fixture
def opens(browser: Browser) -> Iterator[Opens]:
    """Opens a window on a workshop; errors of scripts fail the test."""
    wrong: list[str] = []
    with ExitStack() as stack:

        def window(address: str, path: str = BENCH, **how: Any) -> Page:
            context = browser.new_context(base_url=address, **{"viewport": PHONE, **how})
            stack.callback(context.close)
            return in_context(context, path)

        def in_context(context: BrowserContext, path: str = BENCH) -> Page:
            page = context.new_page()
            page.on("pageerror", lambda one: wrong.append(str(one)))
            page.goto(path)
            if page.evaluate("matchMedia('(scripting: enabled)').matches"):
                ready(page)
            return page

        window.in_context = in_context  # type: ignore[attr-defined]
        yield window
    assert not wrong


def ready(page: Page) -> None:
    page.wait_for_selector("html[data-bench=ready]", state="attached")


def live(page: Page) -> str:
    return page.locator("[aria-current=step]").get_attribute("data-step") or ""


def kept(page: Page) -> None:
    expect(page.locator("#kept")).to_have_text("All is kept")


# --- the two folds --------------------------------------------------------------------------------

STEPS = (
    *(StripStep(key, *[""] * 8, (), (), ()) for key in "12"),
    StripStep("3", *[""] * 8, (), (), (Timing("paste", 2700.0, by_itself=True),)),
    StripStep("4", *[""] * 8, (), (), (Timing("pan 1", 90.0), Timing("pan 2", 90.0))),
)


def some_taps(dice: random.Random) -> list[Tap]:
    begins = datetime(2026, 11, 27, 9, tzinfo=UTC)
    made: list[Tap] = []
    for at in range(dice.randrange(14)):
        kind = dice.choice(list(Tapped))
        when = begins + timedelta(milliseconds=dice.randrange(9))
        name = dice.choice(["pan 1", "pan 2", "paste", ""])
        if kind is Tapped.UNDO and made:
            name = dice.choice(made).id
        ends = when + timedelta(seconds=dice.randrange(99)) if kind is Tapped.START else None
        mark = f"tap-{dice.randrange(9999):04d}-{at:02d}"
        made.append(Tap(mark, kind, when, dice.choice("12349"), name, f"{at} g", ends))
    return made


def in_short(state: BenchState) -> dict[str, Any]:
    running = {one.name: one.ends.timestamp() * 1000 for one in state.running.values()}
    told = {name: one.told for name, one in state.told.items()}
    last = None if state.last is None else state.last.id
    return {
        "done": sorted(state.done),
        "told": told,
        "running": running,
        "started": sorted(state.started),
        "live": state.live,
        "last": last,
    }


_IN_SHORT = """async ([steps, many]) => {
  const { folded } = await import("/static/bench/fold.js");
  return many.map((taps) => {
    const state = folded(steps, taps);
    const running = Object.values(state.running).map((one) => [one.name, one.ends]);
    return {
      done: Object.keys(state.done).sort(),
      told: state.told,
      running: Object.fromEntries(running),
      started: state.started.sort(),
      live: state.live,
      last: state.last?.id ?? null,
    };
  });
}"""


def test_page_and_workshop_fold_alike(workshop: Served, opens: Opens) -> None:
    dice = random.Random(20261127)
    many = [some_taps(dice) for _ in range(400)]
    mixed = [dice.sample(taps, len(taps)) for taps in many]
    steps = [asdict(one) for one in STEPS]
    sent = [[one.as_json() for one in taps] for taps in mixed]
    page = opens(workshop.address)
    assert page.evaluate(_IN_SHORT, [steps, sent]) == [in_short(folded(STEPS, t)) for t in many]


# --- hands ----------------------------------------------------------------------------------------


def test_a_whole_batch_is_made_with_thumbs_and_written_down(workshop: Served, opens: Opens) -> None:
    page = opens(workshop.address)
    assert live(page) == "1"
    page.get_by_role("button", name="Write it: Tub before").click()
    page.locator("#done").click()
    assert live(page) == "2"
    page.locator("#step-2 input[type=text]").first.fill("171,5")
    page.locator("#done").click()  # what was typed goes with it
    page.get_by_role("button", name="Drawn of Malt: more").click()
    page.get_by_role("button", name="Write it: Drawn of Malt").click()
    kept(page)
    for _ in range(14):
        if live(page) == "16":
            page.locator("#step-16 input[type=text]").first.fill("262")
        page.locator("#done").click()
    kept(page)
    page.locator("#finish").click()
    assert page.locator("#egg_in_bowl").input_value() == "171,5 g"
    assert page.locator("[name='drawn[1].share']").input_value() == "2.7 ml"
    page.locator("#tub_after").fill("285 g")
    page.get_by_role("button", name="Write it down").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Written down")
    assert "262 baits" in page.locator("main").inner_text()


def test_timers_survive_reload_and_a_restart_of_the_workshop(batch: Path, opens: Opens) -> None:
    with served(batch) as first:
        page = opens(first.address, BOIL)
        page.clock.install()
        page.reload()
        ready(page)
        for at in (1, 2):
            page.get_by_role("button", name=f"Start pan {at} of 11").click()
        kept(page)
        page.clock.fast_forward(30_000)
        page.reload()
        ready(page)
        expect(page.locator(".timer .left").first).to_have_text(re.compile(r"^(1:00|0:[45]\d)$"))
    with served(batch, port=int(first.address.rpartition(":")[2])):
        page.reload()
        ready(page)
        expect(page.locator(".timer")).to_have_count(2)
        page.clock.fast_forward(61_000)
        dialog = page.get_by_role("alertdialog")
        expect(dialog).to_be_visible()
        expect(dialog).to_contain_text("pan 1 of 11")
        assert page.title().startswith("pan 1 of 11, pan 2 of 11: time is up")
        page.clock.fast_forward(1_000)
        for _ in range(2):
            dialog.get_by_role("button").first.click()
        expect(dialog).to_be_hidden()
        assert page.title().startswith("At the bench")
        kept(page)
        page.reload()
        ready(page)
        expect(page.locator(".timer")).to_have_count(0)


def test_taps_wait_while_the_workshop_is_away_and_come_in_order(batch: Path, opens: Opens) -> None:
    with served(batch) as first:
        page = opens(first.address)
        page.wait_for_selector("html[data-minded=yes]", state="attached")
        page.locator("#done").click()
        kept(page)
    page.locator("#done").click()
    page.get_by_role("button", name="Write it: Drawn of Malt").click()
    page.locator("#done").click()
    expect(page.locator("#kept")).to_have_text("3 taps wait for the workshop")
    page.reload()  # the page itself opens, as it was
    ready(page)
    expect(page.locator("#kept")).to_have_text("3 taps wait for the workshop")
    assert live(page) == "4"
    with served(batch, port=int(first.address.rpartition(":")[2])) as second:
        kept(page)
        told = page.request.get(f"{second.address}{BENCH}/taps").json()["taps"]
        assert [one["kind"] for one in told] == ["done", "done", "value", "done"]
        assert [one["at"] for one in told] == sorted(one["at"] for one in told)
        page.reload()
        ready(page)
        assert live(page) == "4"


def test_a_tap_that_arrived_unheard_of_is_counted_once(workshop: Served, opens: Opens) -> None:
    page = opens(workshop.address)
    lost = []

    def swallow(route: Any) -> None:
        if route.request.method == "POST" and not lost:
            lost.append(route.fetch())  # it arrives, and its answer does not
            route.abort()
        else:
            route.continue_()

    page.route("**/bench/taps", swallow)
    page.locator("#done").click()
    kept(page)
    assert lost
    told = page.request.get(f"{workshop.address}{BENCH}/taps").json()["taps"]
    assert len(told) == 1


def test_two_windows_show_one_bench(workshop: Served, opens: Opens) -> None:
    first = opens(workshop.address)
    second = opens.in_context(first.context)  # type: ignore[attr-defined]
    first.locator("#done").click()
    expect(second.locator("#step-2")).to_have_attribute("aria-current", "step")
    second.locator("#done").click()
    expect(first.locator("#step-3")).to_have_attribute("aria-current", "step")
    first.locator("#undo").click()
    expect(second.locator("#step-2")).to_have_attribute("aria-current", "step")


def test_another_device_is_seen_when_the_page_is_looked_at(workshop: Served, opens: Opens) -> None:
    tablet, phone = opens(workshop.address), opens(workshop.address)
    tablet.locator("#done").click()
    kept(tablet)
    phone.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(phone.locator("#step-2")).to_have_attribute("aria-current", "step")


def test_keys_alone_make_a_batch(workshop: Served, opens: Opens) -> None:
    page = opens(workshop.address)
    page.keyboard.press("Space")
    page.keyboard.press("Enter")
    assert live(page) == "3"
    page.keyboard.press("ArrowUp")
    assert live(page) == "2"
    assert "Step 2 of 16: Weigh in the bowl" in page.locator("#said").inner_text()
    page.keyboard.press("ArrowDown")
    field = page.locator("#step-3 input[type=text]").first
    field.fill("2.5")
    field.press("Enter")
    expect(page.locator("#step-3 .about").first).to_have_text("Written down.")
    page.locator("#done").focus()
    page.keyboard.press("Enter")
    assert live(page) == "4"
    page.locator("#undo").focus()
    page.keyboard.press("Space")
    assert live(page) == "3"


def test_paste_counts_down_once_it_is_mixed(workshop: Served, opens: Opens) -> None:
    page = opens(workshop.address, f"{BENCH}?step=6")
    page.locator("#done").click()
    expect(page.locator(".timer .which")).to_have_text("paste stiffens")
    expect(page.locator(".timer .left")).to_have_text(re.compile(r"^(45:00|44:5\d)$"))


def test_the_next_basket_goes_in_when_the_first_comes_out(workshop: Served, opens: Opens) -> None:
    page = opens(workshop.address, BOIL)
    page.get_by_role("button", name="Start pan 1 of 11").click()
    said = page.locator("#step-10 .next-in")
    expect(said).to_have_text(re.compile(r"^Next: pan 2 of 11, in 1:(30|2\d)$"))


def test_a_value_that_cannot_be_read_is_told_where_it_stands(
    workshop: Served, opens: Opens
) -> None:
    page = opens(workshop.address)
    field = page.locator("#step-1 input[type=text]").first
    field.fill("heavy")
    field.press("Enter")
    expect(page.locator("#step-1 .error")).to_contain_text("a weight such as 550 g")
    field.fill("552")
    field.press("Enter")
    expect(page.locator("#step-1 .error")).to_be_hidden()


def test_without_a_script_a_batch_is_made_with_forms(workshop: Served, opens: Opens) -> None:
    page = opens(workshop.address, java_script_enabled=False)
    page.get_by_role("button", name="Done").click()
    expect(page.locator("#step-2")).to_have_attribute("aria-current", "step")
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#step-1")).to_have_attribute("aria-current", "step")
    page.goto(BOIL)
    page.get_by_role("button", name="Start pan 1 of 11").click()
    expect(page.locator(".timer")).to_contain_text(re.compile(r"ends \d\d:\d\d:\d\d"))
    page.get_by_role("button", name="Stop: pan 1 of 11").click()
    expect(page.locator(".timer")).to_have_count(0)
    field = page.locator("#step-10 input[type=text]").first
    field.fill("95 ml")
    page.get_by_role("button", name="Write it: Boiled").click()
    expect(page.get_by_role("alert")).to_contain_text("5 s to 30 min")
    assert page.locator("#step-10 input[type=text]").first.input_value() == "95 ml"


def test_a_browser_that_keeps_nothing_says_so(batch: Path, opens: Opens) -> None:
    with served(batch) as workshop:
        page = opens(workshop.address)
        context = page.context
        context.add_init_script("Object.defineProperty(window, 'indexedDB', { value: undefined })")
        page = opens.in_context(context)  # type: ignore[attr-defined]
        page.locator("#done").click()
        kept(page)
    page.locator("#done").click()
    expect(page.locator("#kept")).to_contain_text("This browser keeps nothing")


# --- looks ----------------------------------------------------------------------------------------


@contextmanager
def ringing(page: Page) -> Iterator[None]:
    page.locator("#device summary").click()
    page.locator("#try").click()
    yield
    page.wait_for_timeout(600)
    page.get_by_role("alertdialog").get_by_role("button").click()


@pytest.mark.parametrize("width", [320, 390, 1280])
def test_it_fits_and_is_large(workshop: Served, opens: Opens, width: int) -> None:
    page = opens(workshop.address, BOIL, viewport={"width": width, "height": 800})
    page.get_by_role("button", name="Start pan 1 of 11").click()
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    size = page.locator("#step-10 .big").evaluate(
        "one => parseFloat(getComputedStyle(one).fontSize)"
    )
    assert size >= min(0.2 * width, 160)
    for button in page.locator("button:visible:not(.unseen)").all():
        box = button.bounding_box()
        assert box is not None
        assert box["height"] >= 56 and box["width"] >= 56
    done = page.locator("#done").bounding_box()
    assert done is not None
    assert done["y"] + done["height"] <= 800
    assert done["x"] + done["width"] > width / 2


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_stands_in_anyones_way(workshop: Served, opens: Opens, scheme: str) -> None:
    page = opens(workshop.address, BOIL, color_scheme=scheme)
    page.get_by_role("button", name="Start pan 1 of 11").click()
    for one in page.locator("#step-10 details > summary").all():
        one.click()
    rules = (COLOURS,) if scheme == "dark" else ()
    no_violations(page, *rules)
    with ringing(page):
        no_violations(page, *rules)
    page.goto(f"{BENCH}/write")
    no_violations(page, *rules)


def test_who_wants_no_motion_gets_a_steady_colour(workshop: Served, opens: Opens) -> None:
    moves = "getComputedStyle(document.getElementById('rung')).animationName"
    for wanted, name in (("no-preference", "flash"), ("reduce", "none")):
        page = opens(workshop.address, reduced_motion=wanted)
        with ringing(page):
            assert page.evaluate(moves) == name


def test_the_page_says_whether_the_screen_stays_on(workshop: Served, opens: Opens) -> None:
    page = opens(workshop.address)
    assert "screen" in (page.locator("#awake").text_content() or "").lower()
    context = page.context
    context.add_init_script("Object.defineProperty(navigator, 'wakeLock', { value: undefined })")
    other = opens.in_context(context)  # type: ignore[attr-defined]
    assert "cannot keep it on" in (other.locator("#awake").text_content() or "")


def test_the_lock_is_asked_for_again_when_the_page_is_seen_again(
    workshop: Served, opens: Opens
) -> None:
    page = opens(workshop.address)
    page.context.add_init_script(
        """window.asked = 0;
        navigator.wakeLock.request = async () => {
          window.asked += 1;
          const lock = new EventTarget();
          lock.released = false;
          window.letGo = () => { lock.released = true; lock.dispatchEvent(new Event("release")); };
          return lock;
        };"""
    )
    page.reload()
    ready(page)
    page.evaluate("letGo()")
    expect(page.locator("#awake")).to_contain_text("may go dark")
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(page.locator("#awake")).to_contain_text("stays on")
    assert page.evaluate("asked") == 2


# --- a crash --------------------------------------------------------------------------------------


def started(
    kind: BrowserType, folder: Path, *, patience_s: float
) -> tuple[Browser, subprocess.Popen[bytes]]:
    """A browser begun on a folder, once it listens."""
    found = next(filter(None, map(shutil.which, _CHROMIUM)), None)
    assert found is not None
    (folder / "DevToolsActivePort").unlink(missing_ok=True)
    told = [*_ALONE, "--headless=new", "--remote-debugging-port=0", f"--user-data-dir={folder}"]
    process = subprocess.Popen([found, *told], stderr=subprocess.DEVNULL)
    try:
        port = folder / "DevToolsActivePort"
        until = time.monotonic() + patience_s
        while not (port.is_file() and port.read_text().count("\n")):
            if time.monotonic() > until:
                raise TimeoutError
            time.sleep(0.05)
        address = f"http://127.0.0.1:{port.read_text().split()[0]}"
        return kind.connect_over_cdp(address, timeout=1e3 * patience_s), process
    except BaseException:
        process.kill()
        process.wait()
        raise


@contextmanager
def browser_of_its_own(
    kind: BrowserType, folder: Path
) -> Iterator[tuple[Browser, subprocess.Popen[bytes]]]:
    """A browser that keeps what it keeps in a folder, and that may be killed.

    Now and then Chromium takes a connection and never answers: it is begun anew then.
    """
    try:
        made, process = started(kind, folder, patience_s=20)
    except (TimeoutError, PlaywrightTimeoutError):
        made, process = started(kind, folder, patience_s=60)
    try:
        yield made, process
    finally:
        process.kill()
        process.wait()


def test_a_crash_of_browser_and_workshop_loses_no_tap(
    batch: Path, tmp_path: Path, browser: Browser
) -> None:
    kind, folder = browser.browser_type, tmp_path / "browser"
    folder.mkdir()
    with browser_of_its_own(kind, folder) as (first, process):
        with served(batch) as workshop:
            page = first.contexts[0].new_page()
            page.goto(f"{workshop.address}{BOIL}")
            page.wait_for_selector("html[data-minded=yes]", state="attached")
        page.get_by_role("button", name="Start pan 1 of 11").click()
        page.locator("#done").click()
        expect(page.locator("#kept")).to_have_text("2 taps wait for the workshop")
        process.kill()
    with browser_of_its_own(kind, folder) as (second, _):
        page = second.contexts[0].new_page()
        page.goto(f"{workshop.address}{BENCH}")  # the workshop is still away
        ready(page)
        expect(page.locator("#kept")).to_have_text("2 taps wait for the workshop")
        expect(page.locator(".timer .which")).to_have_text("pan 1 of 11")
        with served(batch, port=int(workshop.address.rpartition(":")[2])):
            kept(page)
