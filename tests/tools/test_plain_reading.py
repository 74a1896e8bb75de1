"""What a person reads of files that are no pages."""

from recapgen.tools.plain_reading import calendar_texts, json_texts, manifest_texts


def test_a_calendar_is_read_as_it_is_shown_and_what_only_a_program_reads() -> None:
    folded = (
        "BEGIN:VEVENT\r\nUID:x-1@practice.invalid\r\nSUMMARY:Like Ma\r\n rta\\, slowly\r\n"
        "DESCRIPTION;LANGUAGE=en:One\\nTwo\\\\\r\nEND:VEVENT\r\n"
    )
    assert calendar_texts(folded) == (
        ":x-1@practice.invalid",
        "Like Marta, slowly",
        "One\nTwo\\",
    )


def test_of_data_the_values_are_read_and_of_a_manifest_all_but_its_looks() -> None:
    assert json_texts('{"marta": 1, "who": ["Marta", {"x": "Lind"}]}') == ("Marta", "Lind")
    assert json_texts("{Marta") == ("{Marta",)
    manifest = '{"name": "Your lessons", "start_url": "x.html", "display": "standalone"}'
    assert manifest_texts(manifest) == ("Your lessons", "x")
