"""Answers made by hand, so that what is tested is how an answer is said and not how it is found."""

from __future__ import annotations

from assistant.answer import Advice, Amount, Answer, Asked, Assumed, Component, Cost, Explained, PackCount, Part, Working

HANDS = Advice(
    code="hands", level="note", text="Wear gloves, and wash your hands afterwards.", source="common practice, no source"
)
HARM = Advice(
    code="share-harm",
    level="warning",
    source="a trial",
    text="25 % is more than 20 %: it may harm. Use 10 % instead, which takes 3 cu ft; if you want more, "
    "test it on a few plants first.",
)

#: 4 × 9 ft × 10/12 ft = 30 cu ft; a quarter of it is 7.5 cu ft = 212.4 L.
TOO_MUCH = Answer(
    request="4 by 9 ft bed, 10 inches deep, 25%",
    status="answered",
    reads="bed 4 ft by 9 ft, 10 inch deep, 25 % castings",
    way="blend",
    answer=Asked(of="castings", low=212.376, high=212.376, unit="L"),
    figure="7.5 cu ft of castings",
    beside="212.4 L",
    castings=Amount(litres=(212.376, 212.376), kg=(127.4, 127.4)),
    share=(0.25, 0.25),
    assumed=(Assumed(code="way", text="blend, since a share is of the finished mix"),),
    advice=(HANDS, HARM),
    working=(
        Working(
            rule="rectangle",
            formula="area = length × width",
            with_="length 4 ft, width 9 ft",
            gives="area 36 sq ft",
            source="geometry",
        ),
        Working(
            rule="castings-in-mix",
            formula="castings = share × finished mix",
            with_="share 25 %, finished mix 30 cu ft",
            gives="castings 7.5 cu ft",
            source="shares are by volume of the finished mix",
        ),
    ),
)

#: 8 × 4 ft = 32 sq ft; half an inch to an inch is 1.33 to 2.67 cu ft.
TOP_DRESS = Answer(
    request="top dress a 4 by 8 ft bed",
    status="answered",
    reads="top-dress, bed 4 ft by 8 ft",
    way="top-dress",
    answer=Asked(of="castings", low=37.7558, high=75.5116, unit="L"),
    figure="1.33 to 2.67 cu ft of castings",
    beside="37.76 to 75.51 L",
    castings=Amount(litres=(37.7558, 75.5116), kg=(22.7, 45.3)),
    layer_mm=(12.7, 25.4),
    assumed=(Assumed(code="default-layer", text="1/2 to 1 in of castings (common practice, no source)"),),
    advice=(HANDS,),
)

#: 121.6 lb at 25 lb a bag is 5 bags; 5 × 20.00 = 100.00.
COST = Answer(
    request="4x8 ft bed 1 ft deep 10%, 25 lb bags $20, cost",
    status="answered",
    reads="what cost, bed 4 ft by 8 ft, 1 ft deep, 10 % castings",
    way="blend",
    answer=Asked(of="cost", low=100.0, high=100.0, unit="USD"),
    figure="100.00 USD",
    share=(0.1, 0.1),
    castings=Amount(litres=(90.6139, 90.6139), kg=(55.2, 55.2)),
    packs=(PackCount(id="stated", name="25 lb bag", count=5),),
    cost=Cost(amount="100.00", currency="USD"),
    working=(
        Working(
            rule="castings-in-mix",
            formula="castings = share × finished mix",
            with_="share 10 %, finished mix 32 cu ft",
            gives="castings 3.2 cu ft",
            source="shares are by volume of the finished mix",
        ),
    ),
)

#: 60 L by recipe: 24, 18, 12 and 6 L.
RECIPE = Answer(
    request="60 L of mix",
    status="answered",
    reads="60 litre of potting mix, 40 % coir, 30 % compost, 20 % perlite, 10 % castings",
    way="blend",
    answer=Asked(of="castings", low=6.0, high=6.0, unit="L"),
    figure="6 L of castings",
    beside="25.36 cups",
    castings=Amount(litres=(6.0, 6.0), kg=(3.6, 3.6)),
    share=(0.1, 0.1),
    components=tuple(
        Component(name=name, litres=(litres, litres))
        for name, litres in (("coir", 24.0), ("compost", 18.0), ("perlite", 12.0), ("castings", 6.0))
    ),
)

#: 37.76 L on the bed and 8 cups at the plants.
TWO_PLACES = Answer(
    request="a bed and 4 tomatoes",
    status="answered",
    reads="bed 4 ft by 8 ft, 0.5 inch of castings, 4 tomato, 2 cup each",
    answer=Asked(of="castings", low=39.6485, high=39.6485, unit="L"),
    figure="10.47 gal of castings",
    beside="39.65 L",
    castings=Amount(litres=(39.6485, 39.6485), kg=(23.8, 23.8)),
    set_aside=("south side",),
    parts=(
        Part(
            reads="bed 4 ft by 8 ft, 0.5 inch of castings",
            way="top-dress",
            castings=Amount(litres=(37.7558, 37.7558), kg=(22.7, 22.7)),
            share=None,
            layer_mm=(12.7, 12.7),
        ),
        Part(
            reads="4 tomato, 2 cup each",
            way="side-dress",
            castings=Amount(litres=(1.8927, 1.8927), kg=(1.1, 1.1)),
            share=None,
            layer_mm=None,
        ),
    ),
)

ASKS = Answer(
    request="top dress my lawn",
    status="asks",
    reads="top-dress, lawn",
    question="How big is the lawn?",
    needs="size",
    offers=("20 by 30 ft", "50 square metres"),
)

UNREAD = Answer(
    request="sdlkfj",
    status="unread",
    reads="",
    question="“sdlkfj” is not known here. Ask how much castings something needs.",
    set_aside=("sdlkfj",),
)

EXPLAINS = Answer(
    request="what is side dressing",
    status="answered",
    reads="a question about side dress",
    answer=Explained(topic="side-dress"),
    advice=(
        Advice(
            code="explanation-side-dress",
            level="note",
            source="common practice, no source",
            text="Side-dressing is putting castings beside plants that are growing: 1 to 2 cups each, in a ring that "
            "begins 2 in from the stem.",
        ),
        Advice(
            code="next-step",
            level="note",
            text="Next you might ask: side dress 12 tomato plants at 1 cup each",
            source="common practice, no source",
        ),
    ),
)

ALL = {
    "too-much": TOO_MUCH,
    "top-dress": TOP_DRESS,
    "cost": COST,
    "recipe": RECIPE,
    "two-places": TWO_PLACES,
    "asks": ASKS,
    "unread": UNREAD,
    "explains": EXPLAINS,
}
