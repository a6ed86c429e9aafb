"""A lifter's own exercises stand beside the shared ones, for this lifter only."""

from steelyard.catalogue import catalogue
from steelyard.engine.exercises import own_exercise

PARENT = catalogue()["romanian-deadlift"]
OWN = own_exercise("own-1", "Hof-Heber", PARENT)


def test_an_own_exercise_is_like_its_parent_in_all_but_its_name() -> None:
    assert (OWN.code, OWN.parent, OWN.written) == ("own-1", PARENT.code, ("Hof-Heber",))
    assert OWN.name == {"en": "Hof-Heber", "de": "Hof-Heber"}
    assert (OWN.muscles, OWN.joints, OWN.implement, OWN.role) == (
        *(PARENT.muscles, PARENT.joints, PARENT.implement),
        PARENT.role,
    )


def test_it_is_found_by_its_name_and_stands_after_its_parent() -> None:
    both = catalogue().extended([OWN])
    assert both["own-1"] is OWN
    assert both.named("hof heber") is OWN
    assert both.session_order(PARENT.code) < both.session_order("own-1")
    after = [e.code for e in both.exercises][[e.code for e in both.exercises].index(PARENT.code) + 1 :]
    assert after[0] == "own-1"
    assert [e.code for e in both.exercises if e.code != "own-1"] == [e.code for e in catalogue().exercises]


def test_the_shared_catalogue_stays_as_it_was() -> None:
    catalogue().extended([OWN])
    assert "own-1" not in catalogue()
    assert catalogue().named("Hof-Heber") is None


def test_the_version_says_what_was_added() -> None:
    again = own_exercise("own-1", "Hof-Heber", PARENT)
    other = own_exercise("own-1", "Hof-Zieher", PARENT)
    versions = {
        catalogue().extended(own).version for own in ([OWN], [other], [OWN, own_exercise("own-2", "B", PARENT)])
    }
    assert len(versions | {catalogue().version}) == 4
    assert catalogue().extended([again]).version == catalogue().extended([OWN]).version
    assert catalogue().extended([]) is catalogue()


def test_what_a_lifter_calls_so_wins_for_this_lifter() -> None:
    mine = own_exercise("own-3", "RDL", PARENT)
    assert catalogue().extended([mine]).named("rdl") is mine
    assert catalogue().named("rdl") is PARENT


def test_one_whose_parent_is_not_known_stands_at_the_end() -> None:
    orphan = own_exercise("own-4", "Allein", OWN)
    assert catalogue().extended([orphan]).exercises[-1] is orphan
