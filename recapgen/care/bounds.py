"""The bounds of the safety rules. Conventions and links from surveys, never limits of safety."""

SESSION_STEP_NOTE_TENTHS = 11  # above 1.1 x the biggest session of the last month ...
SESSION_STEP_CARE_TENTHS = 13
SESSION_STEP_BALLS = 10  # ... and by no fewer than this, so that small numbers do not alarm
WEEK_STEP_TENTHS = 15  # above 1.5 x the usual week
WEEK_STEP_BALLS = 50
WEEK_BALLS = 200
WEEK_ROUNDS = 4
FEW_REST_SESSIONS = 5
NO_REST_SESSIONS = 6
FIRST_YEAR_BALLS = 100
LAYOFF_NOTE_DAYS = 14
LAYOFF_CARE_DAYS = 28
LAST_MONTH_DAYS = 30
HOT_C = 28.0  # a convention: from here on the heat note is due, indoors too
SUNNY_C = 18.0  # a convention: from here on people play in their shirts
HIGH_M = 1500.0  # so high up the sun burns in any month
HOT_MONTHS = (6, 7, 8)  # where no temperature was noted; the southern half notes its own
SUNNY_MONTHS = range(4, 10)
PAIN_DAYS = 14  # pain written down so long ago or less is told ...
PAIN_ASK_DAYS = 3  # ... and on so many days of these is for somebody to look at
SHOWN_AT_MOST = 3
