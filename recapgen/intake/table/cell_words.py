"""Words that stand in the cells of a shots file: blocks of the lesson, mishits, averages."""

import re
from collections.abc import Mapping

from recapgen.golf.clubs import club_named
from recapgen.golf.quantity_facts import words_of
from recapgen.model.shots import Block

MOST_DIGITS = 9
_BLOCKS: Mapping[Block, str] = {
    Block.WARM_UP: "warmup, warm up, warming up, loosening, loosen up, aufwärmen, einschlagen, "
    "échauffement, calentamiento, ウォームアップ, 準備運動, 워밍업, 준비운동",
    Block.BEFORE: "before, then, pre, baseline, base line, old, usual, initial, first block, "
    "vorher, davor, avant, antes, 前, 変更前, 変える前, レッスン前, ビフォー, 전, 이전, 변경 전, "
    "바꾸기 전, 레슨 전",
    Block.DRILL: "drill, drills, practice, exercise, training, rehearsal, drilling, übung, "
    "exercice, ejercicio, ドリル, 練習, 드릴, 연습",
    Block.AFTER: "after, now, post, new, retest, re test, afterwards, second block, "
    "nachher, danach, après, después, 後, 変更後, 変えた後, レッスン後, アフター, 후, 이후, "
    "변경 후, 바꾼 뒤, 레슨 후",
    Block.CLOSING: "closing, close, old again, old feel, old feel again, before again, back to old",
}
_BLOCK_WORDS = {
    "".join(words_of(word)): block for block, words in _BLOCKS.items() for word in words.split(", ")
}
_OF_OTHER_THINGS = frozenset(
    "old new pre post usual initial close practice exercise training rehearsal".split()  # noqa: SIM905
)
_SUMMARY_WORDS = (
    "average averages avg ave mean means median total totals sum deviation dev stdev stddev std sd "
    "sigma consistency variance var min max minimum maximum range count summary spread "
    "durchschnitt mittelwert mittelwerte mittel schnitt summe gesamt abweichung abw stdabw stabw "
    "standardabweichung standardabw streuung spannweite varianz höchstwert tiefstwert "
    "kleinster größter anzahl insgesamt "
    "moyenne moyennes moy médiane écart écarts écarttype somme étendue maxi "
    "promedio promedios prom media mediana desviación desv desvest suma máximo mínimo máx mín "
    "rango varianza recuento "
    "平均 平均値 合計 標準偏差 偏差 中央値 最大 最小 最大値 最小値 範囲 分散 "
    "평균 평균값 합계 총계 표준편차 편차 중앙값 최대 최소 최대값 최소값 최댓값 최솟값 범위 분산"
)
_WITH_SUMMARY_WORDS = (
    "standard std of all shots session overall club value values the best s "
    "aller alle schläge schlag der die des typ wert werte "
    "type types des de tous les coups valeur estándar típica est todos los golpes valor "
    "標準 全 球 ショット 全ショット 표준 전체 샷"
)
_SUMMARY = frozenset(word for text in _SUMMARY_WORDS.split() for word in words_of(text))
_WITH_SUMMARY = frozenset(word for text in _WITH_SUMMARY_WORDS.split() for word in words_of(text))
_SIGNS = frozenset({"ø", "σ", "±", "+/-", "x̄", "∑", "μ", "ø:"})
_CLEAN = frozenset(
    {"", "ok", "okay", "good", "solid", "clean", "no", "none", "false", "0", "-", "--", "pure"}
    | {"centre", "center", "n/a", "na", "fine", "normal", "hit"}
)
_FLAGGED = frozenset({"x", "yes", "y", "true", "1", "mishit", "mis-hit", "miss", "bad", "*"})


def block_named(text: str) -> Block | None:
    """The block of the lesson that a word in a phase column or a title stands for."""
    words = [w for w in words_of(text) if not w.isdigit()]
    while words and words[-1] in {"block", "phase", "shots", "balls", "lesson", "swing", "feel"}:
        if "".join(words) in _BLOCK_WORDS:
            break
        words.pop()
    return _BLOCK_WORDS.get("".join(words))


def block_in_name(name: str) -> Block | None:
    """The one block that words in the name of a file or a sheet tell; None where two do."""
    return _only_block(name, frozenset())


def block_in_clip_name(name: str) -> Block | None:
    """As ``block_in_name``, without what a clip's name says of other things ("new driver")."""
    return _only_block(name, _OF_OTHER_THINGS)


def _only_block(name: str, passed_over: frozenset[str]) -> Block | None:
    words = [w for w in words_of(name) if not w.isdigit()]
    found: set[Block] = set()
    at = 0
    while at < len(words):
        for length in (3, 2, 1):
            told = "".join(words[at : at + length])
            block = None if told in passed_over else _BLOCK_WORDS.get(told)
            if block is not None:
                found.add(block)
                break
        at += length
    return found.pop() if len(found) == 1 else None


def is_summary(label: str) -> bool:
    """Whether a label marks a row of averages, deviations or totals rather than a shot."""
    bare = label.strip().casefold()
    if bare in _SIGNS:
        return True
    words = [word for word in words_of(bare) if not word.isdigit()]
    if not any(w in _SUMMARY for w in words):
        return False
    if all(w in _SUMMARY or w in _WITH_SUMMARY for w in words):
        return True
    rest = re.sub(r"[^\W\d_]+", _unless_summary, bare)
    return club_named(rest.strip(" :-()")) is not None


def _unless_summary(word: re.Match[str]) -> str:
    return "" if set(words_of(word[0])) <= _SUMMARY else word[0]


def tag_of(text: str) -> str | None:
    """The coach's word for a mishit, None for a clean strike; a bare mark says "mishit"."""
    bare = " ".join(text.casefold().split())
    if bare in _CLEAN:
        return None
    return "mishit" if bare in _FLAGGED else bare


def shot_number(cell: str) -> int | None:
    """The number of a shot ("12", "#12", "Shot 12", "12.0"); None where the cell is none."""
    if cell.isdecimal():
        return int(cell) if len(cell) <= MOST_DIGITS else None
    digits = cell.strip().casefold().removeprefix("shot").strip(" #.:").removesuffix(".0")
    return int(digits) if digits.isdecimal() and len(digits) <= MOST_DIGITS else None
