from tests.builders import entry_id


def test_a() -> None:
    assert entry_id(1)
