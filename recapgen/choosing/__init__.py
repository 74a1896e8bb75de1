"""Which clip shows which shot, and which clips become films; entered by clip_choice.py alone."""
