"""What draws, films and measures sample_lessons: no part of recapgen, and none of its tests."""
