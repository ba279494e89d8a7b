"""The demonstration workshop: looked round, begun anew, and left again."""

from __future__ import annotations

from fastapi import APIRouter, Depends, Request, Response

from baitwright.web.deeds import leads_to
from baitwright.web.guard import holds_token
from baitwright.web.house import DEMONSTRATION, SHOWN, House
from baitwright.web.in_house import InHouse

pages = APIRouter(include_in_schema=False, dependencies=[Depends(holds_token)])


@pages.post("/demo")
def look_round(request: Request) -> Response:
    """Show this browser the demonstration, which is filled where there is none yet."""
    from baitwright.workshop.season.demo_place import place_beside
    from baitwright.workshop.season.demonstration import begin

    own: House = request.app.state.house
    begin(place_beside(own.place), now=own.now)
    answer = leads_to("/")
    answer.set_cookie(SHOWN, DEMONSTRATION, httponly=True, samesite="strict")
    return answer


@pages.post("/demo/anew")
def anew(house: InHouse) -> Response:
    """Fill the demonstration anew; what was tried in it goes."""
    from baitwright.workshop.season.demonstration import begin

    if house.is_demo:
        house.notebook.replaced(lambda place: begin(place, now=house.now, anew=True))
    return leads_to("/")


@pages.post("/demo/leave")
def leave() -> Response:
    """Show this browser the maker's own workshop again."""
    answer = leads_to("/")
    answer.delete_cookie(SHOWN)
    return answer
