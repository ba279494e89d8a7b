"""The plan page as any browser gets it, script or not: form, numbers, whys, two beside, saving."""

from __future__ import annotations

import json
import re
import tomllib
from datetime import datetime
from html import unescape
from pathlib import Path
from urllib.parse import urlencode

import pytest
from click.testing import CliRunner
from fastapi.testclient import TestClient

from baitwright.cli.plan import plan as command
from baitwright.web.guard import TOKEN
from baitwright.workshop.plans import figures
from baitwright.workshop.plans.plan_told import PlanTold, plan_told
from baitwright.workshop.recipe_files.demo import demo_bench, demo_recipe

EXAMPLES = Path(__file__).parents[2] / "examples"
NOW = "2026-11-27 09:00"
FILES = [str(EXAMPLES / "copper-wafter.toml"), str(EXAMPLES / "bench-three-large-eggs.toml")]
LARGE = re.compile(
    r'id="number-([^"]+)".*?class="what">([^<]+)<.*?<b>([^<]+)</b> '
    r'(?:<span class="unit">([^<]+)<)?',
    re.DOTALL,
)


def fields(**changed: str) -> dict[str, str]:
    """The demonstration's fields at a fixed hour, some of them told otherwise."""
    told = PlanTold(demo_recipe(), {**demo_bench(), "now": NOW})
    return {**dict(told.pairs), **{name.replace("__", "."): one for name, one in changed.items()}}


def text(page: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", page)).split())


def numbers(page: str) -> dict[str, tuple[str, str]]:
    """The large numbers of a page by their key, each with its unit."""
    found = LARGE.findall(page)
    return {unescape(key): (number, unit) for key, _, number, unit in found}


def rounded_alike(shown: str, exact: float) -> bool:
    places = len(shown.partition(".")[2])
    return abs(float(shown) - exact) <= 0.5 * 10.0**-places + 1e-9


def test_page_program_and_command_tell_the_same_numbers(
    client: TestClient, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench = tmp_path / "bench.toml"
    bench.write_text(f'now = "{NOW}"\n' + Path(FILES[1]).read_text(encoding="utf-8"))
    printed = CliRunner().invoke(command, [FILES[0], str(bench), "--json"])
    by_command = json.loads(printed.stdout)
    told = {"recipe": demo_recipe(), "bench": {**demo_bench(), "now": NOW}}
    assert client.post("/api/plan", json=told).json() == by_command
    shown = numbers(client.get("/plan", params=fields()).text)
    stages = by_command["stages"]
    exact = {
        "dry_mix/dry mix the eggs take up": stages["mix"]["dry_mix"],
        "baits/baits": stages["rolled"]["baits"],
        "pot_seconds/boil": stages["boil"]["seconds"],
        "tray_time/leave on the tray": stages["dry"]["time"],
        "wish_share/baits that do what is wanted": stages["water"]["wish"],
    }
    assert exact.keys() < shown.keys()
    for key, told_exactly in exact.items():
        assert rounded_alike(shown[key][0], told_exactly["median"]), key
        assert shown[key][1] in (told_exactly["unit"], "", "in a hundred")
    read = CliRunner().invoke(command, [FILES[0], str(bench)]).stdout
    pinch = shown["pinch/paste to pinch for one bait"]  # by the tray's mean, as on every sheet
    assert f"Pinch {' '.join(pinch)}:" in read
    malt = stages["doses"]["doses"][0]["fill"]
    assert float(shown["dose_volume/Malt"][0]) == pytest.approx(1e6 * malt["volume"])


def test_the_address_holds_the_whole_plan(client: TestClient) -> None:
    page = client.get("/plan", params=fields(bait__diameter="16 mm"))
    assert page.status_code == 200
    kept = re.search(r'name="query" value="([^"]+)"', page.text)
    assert kept is not None
    again = client.get(f"/plan?{unescape(kept[1])}")
    assert numbers(again.text) == numbers(page.text)
    assert 'value="16 mm"' in again.text


def test_every_part_of_an_example_comes_back_from_the_form(client: TestClient) -> None:
    told = PlanTold(demo_recipe(), demo_bench())
    assert plan_told(told.pairs).pairs == told.pairs


@pytest.mark.parametrize(
    ("changed", "at", "said"),
    [
        ({"bait__diameter": "15"}, "bait.diameter", "Size, as rolled"),
        ({"liquid[2].level": "much"}, "liquid[2].level", "liquid 2, level"),
        ({"base.parts[1].share": "450 %"}, "base.parts[1].share", "base, parts 1, share"),
        ({"base.parts[7].share": "4 %"}, "base.parts[7].key", "Ingredient 7"),
        ({"bait.core.diameter": "15 mm"}, "bait.core.diameter", "Core"),
        ({"eggs[1].grade": "L", "eggs[1].shell": ""}, "eggs[1].grade", "eggs 1, grade"),
    ],
)
def test_an_error_stands_at_its_field_and_nothing_typed_is_lost(
    client: TestClient, changed: dict[str, str], at: str, said: str
) -> None:
    page = client.get("/plan", params=fields(**changed))
    assert page.status_code == 422
    assert 'role="alert"' in page.text
    assert said in text(page.text)
    for name, typed in fields(**changed).items():
        select = rf'name="{re.escape(name)}"[^>]*>(?:\s*<option[^>]*>[^<]*</option>)*?'
        chosen = rf'{select}\s*<option (value="{re.escape(typed)}" )?selected>{re.escape(typed)}<'
        plain = f'name="{name}" value="{typed}"'
        assert not typed or plain in page.text or re.search(chosen, page.text), name
    assert f'href="#{at}"' in page.text


def test_a_script_gets_the_results_alone(client: TestClient) -> None:
    part = client.get("/plan", params=fields(), headers={"x-part": "results"})
    assert "<html" not in part.text
    assert numbers(part.text) == numbers(client.get("/plan", params=fields()).text)
    wrong = client.get("/plan", params=fields(lake="warm"), headers={"x-part": "results"})
    assert 'data-place="lake"' in wrong.text
    assert not numbers(wrong.text)


def test_an_empty_plan_asks_for_eggs_and_a_recipe_only(client: TestClient) -> None:
    page = client.get("/plan?start=empty")
    assert page.status_code == 200
    assert "that is enough" in page.text
    told = {
        **{"name": "First", "bait.kind": "sinker", "bait.diameter": "14 mm"},
        **{"base.name": "A bought one", "eggs[1].count": "2", "eggs[1].grade": "EU M"},
    }
    assert numbers(client.get("/plan", params=told).text)


def test_each_number_opens_to_the_graph_that_explains_it(client: TestClient) -> None:
    from baitwright.workshop.plans.opened import opened_as_json
    from baitwright.workshop.plans.plan_told import request_of
    from baitwright.workshop.plans.worked_out import worked_out

    made = worked_out(request_of(plan_told(fields().items()), now=datetime(2026, 11, 27, 9, 0)))
    (tree,) = json.loads(opened_as_json(made, "pinch"))["explained"]
    params = {"query": urlencode(fields()), "number": "pinch/paste to pinch for one bait"}
    page = client.get("/plan/why", params=params)
    said = text(page.text)
    for node in (tree, *tree["inputs"]):
        assert node["label"] in said
        assert node.get("equation", "") in said
    assert tree["moved_by"][0]["label"] in said
    assert "What would narrow it" in said
    assert "Weigh twenty baits together" in said
    part = client.get("/plan/why", params=params, headers={"x-part": "why"})
    assert "<html" not in part.text
    assert tree["equation"] in text(part.text)
    assert client.get("/plan/why", params={**params, "number": "luck"}).status_code == 422


def test_every_number_of_every_stage_opens(client: TestClient) -> None:
    page = client.get("/plan", params=fields()).text
    keys = [unescape(key) for key in re.findall(r'name="number" value="([^"]+)"', page)]
    assert len(keys) > 100
    for key in keys[::12]:
        found = client.get("/plan/why", params={"query": urlencode(fields()), "number": key})
        assert found.status_code == 200, key


def test_two_plans_stand_side_by_side(client: TestClient) -> None:
    first, second = (urlencode(fields(bait__diameter=size)) for size in ("15 mm", "18 mm"))
    page = client.get("/plan/compare", params={"first": first, "second": second})
    said = text(page.text)
    assert "Size, as rolled 15 mm 18 mm" in said
    assert said.index("lift of the bait alone, dried") < said.index("weight lost by the paste")
    assert "Cut open beside each other" in said
    told = re.findall(r'<td class="(up|down)">', page.text)
    assert {"up", "down"} <= set(told)
    beside = client.get("/plan", params={**fields(bait__diameter="18 mm"), "beside": first})
    assert "Beside the one you kept" in beside.text
    same = client.get("/plan/compare", params={"first": first, "second": first})
    assert "Nothing differs." in same.text


def save(client: TestClient, once: str = "one", **changed: str) -> str:
    data = {"query": urlencode(fields(**changed)), "once": once}
    found = client.post("/plan/save", data=data, follow_redirects=False)
    assert found.status_code == 303
    return found.headers["location"]


def test_a_plan_is_saved_once_with_its_recipe_and_papers(client: TestClient) -> None:
    place = save(client)
    assert save(client) == place
    page = client.get(place)
    assert "Recipe kept as version 1; the batch is planned" in text(page.text)
    links = re.findall(r'href="(/batches/[^"]+\.(?:pdf|ics|json))"', page.text)
    kinds = [client.get(link).headers["content-type"].partition(";")[0] for link in links]
    assert kinds == ["application/pdf", "text/calendar", "application/json"]
    sheet, _, kept = (client.get(link) for link in links)
    assert sheet.content.startswith(b"%PDF")
    assert kept.json()["request"]["recipe"]["name"] == "Copper wafter"
    assert client.get(f"{links[0]}x").status_code == 404
    (recipe,) = client.get("/api/recipes").json()["recipes"]
    assert tomllib.loads(recipe["toml"])["liquid"] == demo_recipe()["liquid"]


def test_saving_again_makes_a_version_only_where_the_recipe_changed(client: TestClient) -> None:
    save(client, "one")
    assert "version 1" in text(client.get(save(client, "two")).text)
    changed = client.get(save(client, "three", bait__hardness="normal"))
    assert "version 2" in text(changed.text)
    assert len(client.get("/api/batches").json()["batches"]) == 3


def test_a_plan_that_cannot_be_is_not_saved(client: TestClient) -> None:
    data = {"query": urlencode(fields(bait__diameter="3 m")), "once": "one"}
    assert client.post("/plan/save", data=data).status_code == 422
    unheld = client.post("/plan/save", data=data, headers={"x-baitwright-token": "x"})
    assert unheld.status_code == 403
    assert TOKEN not in client.get("/plan", params=fields()).url.query.decode()


@pytest.mark.all_draws
def test_the_last_batch_is_repeated_with_what_differs_in_plain_sight(client: TestClient) -> None:
    save(client)
    page = client.get("/plan")
    assert "What differs from last time: 2" in text(page.text)
    assert "Nothing differs." in page.text
    since = re.search(r'name="since" value="([^"]+)"', page.text)
    assert since is not None
    told = {**fields(), "since": unescape(since[1]), "eggs[1].shell": "58 g; 60 g; 61 g"}
    del told["now"]
    changed = text(client.get("/plan", params=told).text)
    assert "Weight in the shell 1 64 g; 66 g; 67 g 58 g; 60 g; 61 g" in changed
    assert "dry mix the eggs take up 264 g" in changed


def test_a_recipe_of_the_notebook_begins_a_plan(client: TestClient) -> None:
    save(client)
    page = client.get("/plan", params={"start": "recipe:Copper wafter"})
    assert page.status_code == 200
    assert 'name="bait.diameter" value="15 mm"' in page.text
    assert not numbers(page.text)
    assert client.get("/plan", params={"start": "recipe:Nobody's"}).status_code == 422


def test_the_figures_of_a_plan_are_drawn_once(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn, draw = [], figures.plan_figures
    monkeypatch.setattr(figures, "plan_figures", lambda made: drawn.append(made) or draw(made))
    part = {"headers": {"x-part": "figures"}, "params": fields()}
    first, again = (client.get("/plan", **part).text for _ in range(2))
    assert "<svg" in first
    assert first == again
    assert len(drawn) <= 1  # none where another test had them drawn
