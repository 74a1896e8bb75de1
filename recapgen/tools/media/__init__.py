"""Moving pictures: looking into recordings, hearing and seeing them, converting them.

The only rooms that touch PyAV and ffmpeg. Results are plain values; nothing here writes to,
or opens anything named inside, the coach's files.
"""
