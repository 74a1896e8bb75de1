"""What a person reads of files that are no pages."""

from recapgen.tools.plain_reading import calendar_texts, json_texts, manifest_texts


def test_a_calendar_is_read_as_it_is_shown() -> None:
    folded = (
        "BEGIN:VEVENT\r\nUID:basic-1@practice.invalid\r\nSUMMARY:Like Ma\r\n rta\\, slowly\r\n"
        "DESCRIPTION;LANGUAGE=en:One\\nTwo\\\\\r\nEND:VEVENT\r\n"
    )
    assert calendar_texts(folded) == ("Like Marta, slowly", "One\nTwo\\")


def test_of_data_the_values_are_read_and_of_a_manifest_what_a_phone_shows() -> None:
    assert json_texts('{"marta": 1, "who": ["Marta", {"x": "Lind"}]}') == ("Marta", "Lind")
    assert json_texts("{Marta") == ("{Marta",)
    assert manifest_texts('{"name": "Your lessons", "start_url": "x.html"}') == ("Your lessons",)
