"""How each language says what only a clinician may: that a body is well, and what to take.

Regular expressions that see small letters, as those of ``clearing_phrases``; what they must and
must not find is in ``tests/intake/clearing_lines.yml``.
"""

# ruff: noqa: E501 - a phrase is read in one line

from msgspec import Struct


class ClinicianSays(Struct, frozen=True):
    """``well`` are phrases of a body that is well again, ``medicine`` those that advise one.

    ``asks`` in the same sentence leaves a medicine to a clinician.
    """

    well: tuple[str, ...]
    medicine: tuple[str, ...]
    asks: str


_SUBSTANCE = (
    r"(?:ibuprof[eéè]n\w*|aspirin\w*|parac[eé]tamol\w*|acetaminophen|naproxen\w*|diclofenac\w*"
    r"|cortisone?|cortisona|[ck]ortison\w*|codeine?|tramadol)"
)
_EN = (
    rf"(?:{_SUBSTANCE}|pain ?killers?|pain[- ]?relie(?:f|vers?)|pain (?:gel|cream|pills?|meds?)"
    r"|anti-?inflammator(?:y|ies)|muscle relaxants?|pills?|steroids?|beta[- ]?blockers?)"
)
_DE = (
    rf"(?:{_SUBSTANCE}|ibu|schmerzmittel|schmerztablette\w*|schmerzgel|schmerzsalbe|tabletten?"
    r"|entzündungshemmer\w*)"
)
_ES = rf"(?:{_SUBSTANCE}|analgésicos?|antiinflamatorios?|calmantes?|pastillas?)"
_FR = (
    rf"(?:{_SUBSTANCE}|anti-?douleurs?|anti-?inflammatoires?|analgésiques?|cachets?|comprimés?"
    r"|médicaments?)"
)
_JA = r"(?:痛み止め|鎮痛剤|鎮痛薬|消炎剤|イブプロフェン|アスピリン|湿布|薬)"
_KO = r"(?:진통제|소염제|이부프로펜|아스피린|파스|약(?=[을은]))"

ENGLISH = ClinicianSays(
    well=(
        (
            r"\byour (?:left |right |lead |trail |lower )?(?:body|back|wrist|elbow|shoulder|knee|hip|neck"
            r"|ankle|ribs?|heart|spine)(?:'s| is| are| feels| looks)(?: (?!(?:not|never|no)\b)\w+)? (?:(?:fine"
            r"|ok|okay|all right|alright|sound|healthy|back to normal|as good as new)(?: (?:now|again|already))"
            r"|(?:better|good|well|strong|ready|fine|ok|okay)(?: now| again| enough)?,? (?:and |so |now )*(?:go on"
            r"|carry on|keep going|continue|play on|go for it|go ahead))\b"
        ),
    ),
    medicine=(
        rf"\b(?:take|taking|pop|swallow|use|try|have|get|rub in|rub on|apply) (?:(?!no\b)\w+ ){{0,4}}?{_EN}\b",
        rf"\b{_EN} (?:\w+ ){{0,3}}?(?:before|beforehand|first|helps?|will help|does the trick)\b",
        (
            r"\b(?:stop|stop taking|skip|leave out|leave off|come off|halve|double|raise|lower)"
            r" (?:your|the) (?:medicines?|medications?|meds|dose|tablets|pills?|painkillers?)\b"
        ),
    ),
    asks=r"\bask|\bdoctor|\bpharmacist|\bphysio|\bprescri|\bgp\b",
)
GERMAN = ClinicianSays(
    well=(
        (
            r"\bdeine? (?:\w+ )?(?:rücken|handgelenk|ellbogen|schulter|knie|hüfte|nacken|rippen|herz|wade)"
            r" (?:ist|sind) (?:jetzt|nun|wieder|schon)(?: wieder)? (?:in ordnung|okay|ok|fit|heil|gesund|wie neu)\b"
        ),
    ),
    medicine=(
        rf"\b(?:nimm|nehmt|nehmen sie|nimmst du|schluck\w*|wirf|reib\w*|schmier\w*) (?:(?!kein|nicht)[\w-]+ ){{0,5}}?{_DE}\b",
        rf"\b{_DE} (?:\w+ ){{0,4}}?(?:ein)?(?:nehmen|nimmst|werfen|schlucken|hilft|helfen)\b",
        rf"\b{_DE} (?:vor|vorher|davor)\b",
        r"\b(?:setz|setze|lass|lasse|halbier\w*|verdopp\w*) (?:\w+ )?(?:deine?|die) (?:medikamente?|tabletten|dosis)",
    ),
    asks=r"\bfrag|\barzt|\bärzt|\bapothek|\bverschr|\bphysio",
)
SPANISH = ClinicianSays(
    well=(
        (
            r"\btu (?:espalda|muñeca|codo|hombro|rodilla|cadera|cuello|tobillo|corazón) (?:ya está|está ya|ahora está)"
            r" (?:muy |del todo )?(?:bien|perfect[oa]|como nuev[oa])(?! (?:colocad|alinead|orientad|situad|girad))\b"
        ),
    ),
    medicine=(
        rf"\b(?:toma|tómate|tome|tomar|tómese|tomas|prueba con|ponte|usa) (?:\w+ ){{0,4}}?{_ES}\b",
        rf"\b{_ES} (?:\w+ ){{0,3}}?(?:antes|ayuda|primero)\b",
        r"\b(?:deja|suspende|dobla|reduce) (?:de tomar )?(?:tu|la|el|los|tus) (?:medicación|medicamentos?|dosis|pastillas)",
    ),
    asks=r"\bpregunta|\bmédic[oa]|\bfarmac|\brecet|\bfisio|\bconsulta",
)
FRENCH = ClinicianSays(
    well=(
        (
            r"\b(?:votre|ton|ta) (?:dos|poignet|coude|épaule|genou|hanche|cou|nuque|cheville|cœur) va (?:très |tout à fait"
            r" |beaucoup )?(?:bien|mieux)(?=\s*(?:$|[,.;:!?]|(?:maintenant|désormais|à présent|et|donc|alors)\b))"
        ),
    ),
    medicine=(
        rf"\b(?:prenez|prends|prendre|avalez|avale|essayez|essaie|mettez|mets) (?:[\w'-]+ ){{0,4}}?{_FR}\b",
        rf"\b{_FR} (?:\w+ ){{0,3}}?(?:avant|aide|d'abord)\b",
        r"\b(?:arrêtez|arrête|doublez|double|réduisez|réduis) (?:votre|vos|ton|tes|le|les) (?:traitement|médicaments?|dose)",
    ),
    asks=r"\bdemande[zr]?\b|\bmédecin|\bpharmac|\bprescri|\bkiné|\bconsulte",
)
JAPANESE = ClinicianSays(
    well=(
        (
            r"(?:腰|背中|手首|ひじ|肘|肩|膝|ひざ|首|股関節|体|心臓)(?:は|も)?(?:もう|すっかり)[^。、]{0,4}?(?:大丈夫"
            r"|問題(?:ない|ありません)|[良よ]くなりました)(?!なら|だったら|か|に)"
        ),
    ),
    medicine=(
        (
            rf"{_JA}(?:を|でも|は)?[^。、]{{0,6}}?(?:飲んで(?!は|いる|も)|飲みま(?!せん)|飲めば|飲むと|服用して(?!は|いる|も)"
            r"|使って(?!は|いる|も)|貼って(?!は|いる|も)|塗って(?!は|いる|も)|やめて|減らして)"
        ),
    ),
    asks=r"相談|医師|医者|薬剤師|処方",
)
KOREAN = ClinicianSays(
    well=(
        r"(?:허리|손목|팔꿈치|어깨|무릎|목|몸)(?:은|는|이|가)? ?(?:이제|이미) ?(?:다 )?(?:괜찮|문제 ?없|좋아졌)(?!으면|아지면|은지|는지|다면)",
    ),
    medicine=(
        (
            rf"{_KO}(?:을|를|은)? ?[^.,]{{0,8}}?(?:먹고|먹으세요|먹으면|드세요|드시고|복용하(?:세요|고)|바르(?:고|세요)"
            r"|붙이(?:고|세요)|끊으세요|줄이세요)"
        ),
    ),
    asks=r"의사|약사|처방|물어|상의",
)

CLINICIANS = (ENGLISH, GERMAN, SPANISH, FRENCH, JAPANESE, KOREAN)
