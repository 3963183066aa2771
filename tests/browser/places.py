"""The addresses of every place of the page, in the demo's planned week."""

PLACES = (
    "/plan", "/mat", "/mat/{code}/1/1", "/mat/{code}/1/4", "/mat/{code}/1/11",
    "/mat/{code}/1/4/slip", "/mat/{code}/1/4/slip/1", "/mat/{code}/1/4/slip/1/1/1",
    "/drawer", "/drawer?sheet=HP-IMP", "/drawer/bring-in", "/orders", "/orders?order=D02",
    "/orders/work", "/quote", "/quote?size=210+x+297&margin=12&paper=Slatehouse+Smooth",
    "/edition",
    "/edition?numbered=50&size=300+x+400&paper=Marram+Rag&certificate=A6"
    "&certificate-paper=Gullwing+Laid",
    "/diary", "/diary/figures", "/studio", "/plan/arrived",
)  # fmt: skip


def places_of(code: str) -> tuple[str, ...]:
    """Return the addresses where the plan has this code."""
    return tuple(path.format(code=code) for path in PLACES)
