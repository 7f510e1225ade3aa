"""Pages about the picture leave it to be seen, where there is room for both."""

import pytest
from tutor_driving import Driven, driven

KEYS = {"hint": "h", "mark": "s enter n n n n n enter c", "legend": "y"}


def _picture(tutor: Driven) -> list[str]:
    """What stands where the picture is, without what lies beside and below it."""
    region = tutor.picture.region
    return [row[region.x : region.right] for row in tutor.rows[region.y : region.bottom]]


@pytest.mark.parametrize("name", KEYS)
@pytest.mark.parametrize("size", [(100, 24), (120, 40), (200, 60)])
async def test_the_picture_is_seen_beside_the_page(size: tuple[int, int], name: str) -> None:
    async with driven("4", size) as tutor:
        *before, last = KEYS[name].split()
        await tutor.press("n enter " + " ".join(before))
        drawn = _picture(tutor)
        await tutor.press(last)
        assert tutor.page
        assert _picture(tutor) == drawn
        # Keys that do something else meanwhile are not to be read.
        assert not "".join(tutor.rows[-3:]).strip()
        await tutor.press("escape")
        assert _picture(tutor) == drawn
        assert "q Quit" in tutor.rows[-1]


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (99, 40)])
async def test_where_there_is_no_room_a_page_lies_over_it(size: tuple[int, int]) -> None:
    async with driven("4", size) as tutor:
        drawn = _picture(tutor)
        await tutor.press("h")
        assert _picture(tutor) != drawn


async def test_a_page_goes_aside_and_back_as_the_window_changes() -> None:
    async with driven("4", (120, 40)) as tutor:
        await tutor.press("h")
        words = tutor.page
        for size in ((80, 24), (110, 24), (60, 20), (200, 50)):
            await tutor.resize(*size)
            assert all(word in tutor.text for word in words.split())
            reader = tutor.app.screen.query_one("#reader").region
            assert (reader.x >= tutor.picture.region.right) == (size[0] >= 100)
            assert reader.right <= size[0]
            assert reader.bottom <= size[1]


async def test_on_the_walk_round_marks_are_explained() -> None:
    for size in ((80, 24), (60, 20), (120, 40)):
        async with driven("4", size) as tutor:
            await tutor.press("f2")
            await tutor.press("y")
            assert tutor.page.startswith("What the marks mean")
            for words in ("crown", "underarm point", "notch", "grain", "seam line"):
                assert words in tutor.page
            await tutor.press("escape")
            assert "Stop 1 of 8" in tutor.text
