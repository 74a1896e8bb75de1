"""How each language of the pages waves pain away, or clears a body: regular expressions.

Nobody says in which language a coach writes, so all of them are looked for in every line. They
see small letters, straight apostrophes and single blanks. What they must and must not find is
in ``tests/intake/clearing_lines.yml``.
"""

# ruff: noqa: E501 - a phrase is read in one line

from msgspec import Struct


class Tongue(Struct, frozen=True):
    """The phrases of one language.

    ``painless`` speaks of no pain and is taken out before ``pain`` is looked for. ``waves_off``
    and ``clears`` are the lines looked for; ``goes_on`` is one only beside ``pain``, unless
    ``seeks_help`` is there too. ``not_before`` in the same clause, or ``not_after`` right behind,
    turns a phrase round; ``only_if`` before it makes a clearing the clinician's.
    """

    pain: str
    painless: str
    waves_off: tuple[str, ...]
    goes_on: tuple[str, ...]
    clears: tuple[str, ...]
    seeks_help: str
    not_before: str
    only_if: str
    not_after: str = r"(?!)"


_EN_PAIN = (
    r"(?:pains?|hurts?|hurting|aches?|aching|sore(?:ness)?|stings?|stinging|twinges?|discomfort"
    r"|injury|injuries|numb(?:ness)?|tingl(?:e|es|ing)|dizz(?:y|iness)|faint(?:ness)?"
    r"|breathless(?:ness)?|short of breath|chest (?:pain|pressure|tightness)|swelling|swollen)\b"
)
_EN_SIGN = (
    r"(?:pain|hurting|numbness|tingling|dizziness|faintness|breathlessness|swelling"
    r"|chest (?:pain|pressure|tightness))"
)
_EN_THE = (
    r"(?:(?:the|any|your|a|an|some|this|that|all|little|bit|of|slight|mild|minor|first|initial"
    r"|normal|usual|bad|worst|lower|back|wrist|elbow|knee|shoulder|hip|neck|rib|chest|muscle) )*"
)
_EN_BODY = (
    r"(?:left |right |lead |trail |lower )?"
    r"(?:body|back|wrist|elbow|shoulder|knee|hip|neck|ankle|ribs?|hand|heart|joint|spine)"
)
_EN_END = r"(?=\s*(?:$|[,.;:!?)\"]|(?:and|so|now|any ?more|again|at all)\b))"
_EN_DOCTOR = (
    r"(?:doctor|physio(?:therapist)?|clinician|gp|surgeon|midwife|hospital|medical advice)s?\b"
)
ENGLISH = Tongue(
    pain=rf"\b{_EN_PAIN}",
    painless=(
        r"pain[- ]?(?:free|less)|free (?:of|from) pain|\bwithout (?:any |the )?(?:pain|soreness)"
        r"|\b(?:no|less|zero) (?:more )?(?:pain|soreness|sore|discomfort)\b"
        r"|\b(?:nothing|no longer|does not|doesn't|did not|didn't|never) hurts?\b"
        r"|\bstops? hurting|\b(?:pain|soreness) (?:is|has) gone|\bhurts? (?:less|nobody|(?:your|the) score)"
        r"|\bnot a pain\b|\bpain of (?!the\b)|\binjury list\b|\b(?:not|isn't|aren't) (?:sore|numb|dizzy)\b"
    ),
    waves_off=(
        r"(?<!forget )(?<!forget .)\bno pain,? (?:no|means no|equals no) gain",
        (
            r"\b(?:push|play|swing|practi[sc]e|train|work|hit|fight|battle|power|grind|grit|muscle"
            r"|press|soldier|struggle|walk|run|go)(?:s|es|ing)? (?:(?:on|right|straight|hard|it|balls"
            r"|shots|your way) )*(?:through|past|despite|in spite of) "
            rf"{_EN_THE}(?:(?:it )?when it )?{_EN_PAIN}"
        ),
        r"\b(?:play|swing|practi[sc]e|hit)(?:ing)? (?:on )?with (?:the |some |a bit of )?pain\b",
        (
            r"\b(?:ignor(?:e|es|ing)|forget(?: about)?|disregard|never mind|don't mind|do not mind"
            r"|don't worry about|do not worry about|don't listen to|pay no attention to|block out"
            rf"|shrug off|shake off|brush off|walk off|run off|tough out|bite through) {_EN_THE}"
            rf"(?:{_EN_PAIN}|what hurts|that it hurts)"
        ),
        (
            r"\bgrin and bear (?:it|the pain)|\bsuck it up\b|\btough it out\b|\bman up\b"
            r"|\bgrit your teeth\b|\bembrace the pain\b|\bpain (?:means|is) (?:progress|gain)\b"
        ),
        (
            r"^(?:[\w ]{0,20}:|\W|just|then|and|please|now|so|you|can|will|must|have to|try to)*"
            r"push (?:on )?through(?: it| this| that)?\W*$"
        ),
        r"\b(?:take|pop|swallow) (?:a |some |two )?painkillers?,? (?:and|then)\b",
        (
            r"\b(?:don't|do not) (?:let (?:the |a little |any )?pain (?:stop|hold)|(?:be afraid of|fear)"
            r" (?:the |a little )?pain)|\bpain (?:should not|shouldn't|must not|mustn't) stop\b"
        ),
        (
            rf"\b{_EN_SIGN}(?: in \w+(?: \w+)?| there| here| after \w+)? (?:is|are|'s) "
            r"(?:(?:just|only|perfectly|quite|completely|totally|absolutely|all|a|part|always) )*"
            r"(?:normal|fine|ok|okay|good|nothing|harmless|no problem|natural|healthy|weakness"
            r"|temporary|in your head|of the (?:game|process|deal)|to be expected|expected)\b"
        ),
        (
            rf"\b{_EN_SIGN} (?:will (?:soon |just )?(?:pass|go away|wear off)"
            r"|(?:wears off|goes away) (?:by itself|on its own|when you swing|after a few))"
        ),
        (
            r"\b(?:it is|it's|that's|that is) (?:(?:perfectly|quite|just|all) )*(?:normal|fine|ok"
            r"|okay|no problem|nothing) (?:if|when|that) (?:it|your \w+|the \w+) (?:hurts|aches"
            r"|is sore|stings|goes numb|tingles)"
        ),
        r"\bpain never (?:hurt|killed) (?:anyone|anybody)",
        (
            rf"\b(?:no need|needn't|don't need|do not need|don't have to|do not have to) (?:to )?stop"
            rf"\b(?=.*{_EN_PAIN})"
        ),
    ),
    goes_on=(
        (
            r"\b(?:keep (?:going|on(?! rest)|swinging|hitting|playing|practi[sc]ing|working|at it)|carry on"
            r"|continue(?! to rest)|play on|soldier on|don't stop|do not stop|never stop|push through"
            r"|finish (?:the|your) (?:bucket|set|session|round|plan|balls))\b"
        ),
        r"\beven (?:if|when|though) (?:it|that|this|your \w+) (?:hurts|aches|stings|is sore)\b",
    ),
    clears=(
        (
            r"\b(?:you|your body)(?:'re| are| is|'ve been| have been| have now been)"
            r"(?: (?!(?:not|never|no)\b|un)\w+){0,2}"
            r" (?:cleared(?! (?:of|the))|fit to (?:play|swing|practi[sc]e|hit|train)|healed|cured"
            r"|injury[- ]free|fully recovered|safe to (?:play|swing|practi[sc]e))\b"
        ),
        (
            rf"\byour {_EN_BODY}(?:'s| is| are| has| have)(?: (?!(?:not|never|no)\b)\w+)?"
            r" (?:cleared (?:for|to|by)|healed|cured|recovered|injury[- ]free)\b"
        ),
        r"\b(?:i|we)(?:'m|'ve| am| are| have)?(?: now)? (?:clear|clearing|cleared) you\b(?! of)",
        r"\bconsider yourself (?:cleared|fit|healed|cured|recovered)",
        r"\byou(?:'ve| have)? (?:got |been given |are given )?the all[- ]clear",
        r"\ball[- ]clear (?:for|to) (?:full |fast |hard )?(?:play|swing|practi[sc]e|hit)",
        rf"{_EN_DOCTOR} (?:has |have )?(?:cleared|okayed|ok'd) you\b",
        r"\bcleared (?:to|for) (?:play|swing|practi[sc]e|hit|train|full)",
        rf"\bnothing(?: is|'s)? wrong with your {_EN_BODY}{_EN_END}",
        rf"\b(?:safe|harmless|no risk) for your {_EN_BODY}{_EN_END}",
        rf"\b(?:can't|cannot|won't|will not) (?:hurt|injure|harm|damage) your {_EN_BODY}{_EN_END}",
        (
            r"\b(?:no need (?:for|of|to (?:see|ask|call|visit|go to))|(?:don't|do not) (?:need|bother"
            r"|have to (?:see|ask|call)|ask|see|call|listen to|trust)(?: to (?:see|ask|call|visit))?"
            r"|needn't (?:see|ask|call)|not necessary to (?:see|ask)|without (?:seeing|asking)"
            rf"|forget(?: about)?|skip|never mind|ignore) (?:(?:a|an|the|your|any|with) )*{_EN_DOCTOR}"
        ),
        r"\bdoctors? (?:is |are )?not (?:needed|necessary|required)",
        rf"\bno {_EN_DOCTOR} (?:is )?(?:needed|necessary|required)",
    ),
    seeks_help=(
        r"(?<!don't )(?<!do not )(?<!never )(?<!need to )(?<!have to )\bstop|\bask\b|\bsee (?:a|your)"
        r"|\bcall\b|\bdoctor|\bphysio|\btell (?:me|us)\b|\buntil it (?:is|has) (?:gone|looked)"
    ),
    not_before=(
        r"\b(?:not|don't|doesn't|won't|can't|shouldn't|mustn't|isn't|aren't|didn't|never|ever|no one"
        r"|nobody|no|without|instead of|rather than|avoid|stop|quit|resist|tempt\w*|than to"
        r"|who|people|players who)\b"
    ),
    only_if=(
        r"\b(?:if|once|when|until|till|unless|after|as soon as|whether|before|only|ask|let)\b"
    ),
)

_DE_PAIN = (
    r"(?:schmerz\w*|weh ?tut|weh ?tun|tut (?:\w+ ){0,3}weh|zwick\w*|kribbel\w*|taubheit\w*"
    r"|schwindel\w*|atemnot|brustdruck|druck auf der brust|verletzung\w*)"
)
_DE_THE = r"(?:(?:den|die|das|der|dem|deinen|deine|deiner|jeden|alle|allen|etwas|leichte[nr]?|ein bisschen|kleine[nr]?) )*"
_DE_DOCTOR = r"(?:arzt|ärzt\w*|hausarzt|physio\w*|krankenhaus|hebamme|klinik)"
GERMAN = Tongue(
    pain=_DE_PAIN,
    painless=r"schmerzfrei\w*|ohne (?:jeden |jegliche )?schmerz\w*|kein\w* schmerz\w*|nicht mehr weh|nicht weh",
    waves_off=(
        r"ohne schmerz\w*,? kein\w* \w+|kein schmerz,? kein \w+",
        r"kenn(?:t|en) keinen schmerz",
        rf"\bignorier\w* (?:einfach )?{_DE_THE}(?:\w+ )?{_DE_PAIN}",
        (
            rf"{_DE_PAIN} (?:einfach |ruhig )?(?:ignorier|ausblend|aushalt|wegsteck|verbeiß|durchsteh"
            r"|überwind|vergess|wegdrück|übergeh)\w*"
        ),
        (
            rf"\b(?:vergiss|überwinde|übergeh|halte?|steck|blende|überhöre?|achte nicht auf|hör nicht auf)"
            rf" (?:einfach )?{_DE_THE}schmerz\w*"
        ),
        r"durch (?:den|die|deinen|jeden) schmerz\w*",
        r"zähne zusammen|\bbeiß\w* (?:einfach )?(?:dich )?durch",
        r"\btrotz (?:der |deiner |des |starker |leichter )*(?:schmerz\w*|verletzung\w*|zwickens)",
        (
            r"schmerz\w*(?: im \w+| in der \w+| dabei| danach)? (?:ist|sind|gehör\w+) (?:(?:ganz|völlig|nur"
            r"|dabei|eben|halt|doch) )*(?:normal|schwäche|kopfsache|einbildung|gut|nichts|harmlos|kein"
            r" problem|nicht schlimm|unbedenklich|ok|okay|dazu|in ordnung)\b"
        ),
        r"schmerz\w* (?:geht|gehen|vergeht|vergehen) (?:schon |wieder |von selbst )*(?:weg|vorbei|vorüber|von selbst)",
        r"\b(?:normal|okay|ok|in ordnung|nicht schlimm),? (?:wenn|dass) (?:es|das|\w+ \w+) (?:\w+ )?(?:weh ?tut|schmerzt|zwickt)",
    ),
    goes_on=(
        r"\b(?:auch|selbst) wenn (?:es|das|die \w+|der \w+|dein\w* \w+) (?:\w+ ){0,2}(?:weh ?tut|schmerzt|zwickt)",
        r"\b(?:mach\w*|spiel\w*|schlag\w*|üb\w*|schwing\w*|trainier\w*) (?:\w+ ){0,2}weiter\b|\bweiter(?:machen|spielen|schlagen|üben|schwingen)\b|\bhör\w* nicht auf\b|\bnicht aufhören\b",
    ),
    clears=(
        (
            r"\bdu bist (?:(?!nicht|noch|nie)\w+ ){0,2}(?:wieder (?:fit|gesund|belastbar|hergestellt)"
            r"|geheilt|genesen|freigegeben|spielfähig|ausgeheilt|voll belastbar)\b"
        ),
        (
            r"\bdeine? (?:\w+ )?(?:rücken|handgelenk|ellbogen|schulter|knie|hüfte|nacken|rippen|hand|herz"
            r"|wade) (?:ist|sind) (?:(?!nicht|noch|nie)\w+ ){0,2}(?:geheilt|ausgeheilt|gesund|belastbar|auskuriert)\b"
        ),
        r"\bgebe? (?:ich )?dich (?:\w+ )?frei\b|\bdie freigabe (?:hast du|gebe ich)",
        rf"\bkein\w* {_DE_DOCTOR} (?:nötig|notwendig|erforderlich)",
        rf"{_DE_DOCTOR} (?:ist |sind )?(?:nicht (?:nötig|notwendig|erforderlich)|brauchst du nicht|unnötig)",
        rf"\bbrauchst (?:du )?(?:dafür |deshalb |dazu )?kein\w* {_DE_DOCTOR}",
        rf"\b(?:musst|brauchst) (?:du )?(?:deshalb |damit |dafür )?nicht (?:zum|zur|ins|in die) {_DE_DOCTOR}",
        rf"\bohne (?:den |die |deinen |deine )?{_DE_DOCTOR} zu fragen|\bvergiss (?:den|die|deinen|deine) {_DE_DOCTOR}",
    ),
    seeks_help=r"\bstopp?\b|(?<!nicht )aufhören|\bhör (?:sofort |dann |bitte )*auf\b|\bfrag|\barzt|\bärzt|\bphysio|\bruf|\bsag (?:mir|es)",
    not_before=r"\b(?:nicht|nie|niemals|kein\w*|ohne|statt|anstatt|wer)\b",
    only_if=r"\b(?:wenn|sobald|bis|erst|falls|ob|nachdem|bevor|frag\w*)\b",
    not_after=r"\s*(?:bitte |aber |auch |lieber |einfach )*(?:nicht|nie|niemals)\b",
)

_ES_PAIN = (
    r"(?:dolor(?:es)?|duelen?|duelan?|molestias?|hormigueo|adormecimiento|mareos?|lesión|lesiones"
    r"|falta de aire|presión en el pecho)\b"
)
_ES_THE = (
    r"(?:(?:el|la|los|las|ese|esa|este|esta|tu|tus|un|una|poco|de|del|al|cualquier|todo|algo) )*"
)
_ES_DOCTOR = r"(?:médic[oa]|doctora?|fisio\w*|hospital|matrona|cirujan[oa])"
_ES_ON = (
    r"(?:sigue|seguir|continúa|continuar|juega|jugar|practica|practicar|entrena|entrenar|pega|golpea"
    r"|termina|aguanta|no pares|no te pares|no te detengas)"
)
SPANISH = Tongue(
    pain=rf"\b{_ES_PAIN}",
    painless=r"\bsin (?:ningún |nada de )?(?:dolor|molestias?)|\bno (?:te |le )?duel[ae]n?\b|\bdeja de doler|\bsin que (?:te )?duela",
    waves_off=(
        r"\bsin dolor,? no hay \w+|\bquien algo quiere,? algo le cuesta.*dolor",
        (
            r"\b(?:ignora|ignorar|olvida|olvidar|olvídate|aguanta|aguantar|supera|superar|resiste|vence"
            rf"|desprecia|no hagas caso|no le hagas caso|pasa) (?:\w+ )?{_ES_THE}{_ES_PAIN}"
        ),
        rf"\b{_ES_ON} (?:\w+ ){{0,4}}?(?:a pesar|pese|a través|con) (?:de |al? )?{_ES_THE}{_ES_PAIN}",
        r"\b(?:a través|a pesar) del dolor",
        r"\b(?:aprieta|apretar|apriete) los dientes",
        (
            r"\bdolor(?:es)?(?: en \w+ \w+| ahí)? (?:es|son) (?:(?:solo|sólo|muy|totalmente|algo|una|la|del) )*"
            r"(?:normal(?:es)?|buen[oa]|debilidad|mental|natural|pasajero|parte del \w+|inofensivo)\b"
        ),
        r"\b(?:es|está) (?:normal|bien) (?:que (?:te )?duela|si (?:te )?duele)",
    ),
    goes_on=(
        rf"\b{_ES_ON}\b",
        r"\baunque (?:te |le )?(?:duela|duele|moleste)",
    ),
    clears=(
        r"\b(?:ya )?estás (?:(?!no|sin)\w+ )?(?:curad[oa]|recuperad[oa]|san[oa]|apt[oa]|dad[oa] de alta)\b",
        (
            r"\btu (?:espalda|muñeca|codo|hombro|rodilla|cadera|cuello|mano|corazón) (?:ya )?está (?:\w+ )?"
            r"(?:curad|recuperad|san)[oa]\b"
        ),
        r"\b(?:te doy el|tienes el|ya tienes el) alta\b",
        (
            r"\bno (?:hace falta|necesitas|es necesario|tienes que|hay que|hay necesidad de|te hace falta)"
            rf" (?:(?:ir|ver|llamar|preguntar|preguntarle|consultar|al?|el|un|una|la|con|tu) )*{_ES_DOCTOR}"
        ),
        rf"\bsin (?:ir|ver|preguntar|consultar) (?:al? )?(?:tu |la |un )?{_ES_DOCTOR}",
        rf"\b{_ES_DOCTOR} no (?:es|hace) (?:necesari[oa]|falta)|\bolvídate del {_ES_DOCTOR}",
    ),
    seeks_help=r"\bdetente\b|(?<!no )\bpara(?:r|te)?\b(?! (?:que|el|la|ti|una?)\b)|\bdeja de\b|\bpregunta|\bmédic|\bfisio|\bllama|\bdime\b|\bavísame",
    not_before=r"\b(?:no|nunca|jamás|sin|evita|evitar|en vez de|en lugar de|quien|ni)\b",
    only_if=r"\b(?:si|cuando|hasta|una vez|solo|sólo|antes|pregunta\w*)\b",
)

_FR_PAIN = (
    r"(?:douleurs?|fait (?:un peu |très )?mal|avez (?:un peu )?mal|as (?:un peu )?mal|gêne|fourmillements?"
    r"|ai (?:un peu |très |encore )?mal (?:à|au|aux)"
    r"|engourdissements?|vertiges?|blessures?|essoufflement|oppression)\b"
)
_FR_THE = r"(?:(?:la|le|les|l'|votre|vos|ta|tes|cette|ces|toute|une|un|peu|de|petite) ?)*"
_FR_DOCTOR = r"(?:médecins?|docteure?|kiné\w*|sage-femme|hôpital|chirurgien\w*)"
_FR_ON = (
    r"(?:continu(?:ez|er|e)|jou(?:ez|er|e)|tap(?:ez|er|e)|swingu(?:ez|er|e)|frapp(?:ez|er|e)|forc(?:ez|er|e)"
    r"|entraîn(?:ez-vous|er|e-toi)|finiss(?:ez|e)|ne vous arrêtez pas|ne t'arrête pas)"
)
FRENCH = Tongue(
    pain=rf"\b{_FR_PAIN}",
    painless=r"\bsans (?:aucune |la moindre )?(?:douleurs?|gêne)|\bpas (?:de )?(?:mal|douleur)\b|\bplus (?:de )?(?:mal|douleur)\b|\bindolore",
    waves_off=(
        r"\bsans douleur,? (?:pas de|aucun) \w+|\bon n'a rien sans (?:mal|douleur)|\bil faut souffrir",
        (
            r"\b(?:ignor|oubli|surmont|dépass|support|travers|endur|brav)(?:ez|er|e) (?:simplement )?"
            rf"{_FR_THE}{_FR_PAIN}"
        ),
        rf"\bpass(?:ez|er|e) outre {_FR_THE}{_FR_PAIN}|\bne (?:faites|fais) pas attention à {_FR_THE}{_FR_PAIN}",
        rf"\b{_FR_ON} (?:\w+ ){{0,4}}?(?:malgré|à travers|en dépit de|avec|sur) {_FR_THE}{_FR_PAIN}",
        r"\bserr(?:ez|er|e) les dents",
        (
            r"\bdouleurs?(?: (?:au|à la|dans le|dans la) \w+)? (?:est|sont) (?:(?:tout à fait|juste|seulement|un) )*"
            r"(?:normales?|bonnes?|bon signe|passagères?|dans la tête|inoffensives?|sans gravité)\b"
        ),
        r"\b(?:c'est|il est) normal (?:que (?:ça|cela) (?:vous )?fasse mal|d'avoir mal|si (?:ça|cela) fait mal)",
    ),
    goes_on=(
        rf"\b{_FR_ON}\b",
        r"\bmême (?:si|quand) (?:ça|cela|vous|tu|le \w+|la \w+)",
    ),
    clears=(
        r"\b(?:vous êtes|tu es) (?:(?!pas|plus|jamais|encore)\w+ ){0,3}(?:guérie?|apte|rétablie?|remise?|autorisée? à (?:jouer|swinguer))\b",
        (
            r"\b(?:votre|ton|ta) (?:dos|poignet|coude|épaule|genou|hanche|cou|nuque|main|cœur|cheville) est "
            r"(?:(?!pas|plus)\w+ )?(?:guérie?|rétablie?)\b"
        ),
        r"\b(?:vous avez|je vous donne|tu as|je te donne) le feu vert",
        (
            r"\b(?:pas (?:besoin|la peine)|inutile) (?:de |d')?(?:(?:voir|consulter|aller voir|appeler|demander à"
            rf"|un|une|le|la|votre|ton|chez) )*{_FR_DOCTOR}"
        ),
        rf"\bsans (?:voir|consulter|demander à|appeler) (?:un |le |la |votre |ton )?{_FR_DOCTOR}",
        rf"\b(?:le |la |un )?{_FR_DOCTOR} n'est pas nécessaire",
    ),
    seeks_help=r"(?<!vous )(?<!t')\barrête[zr]?\b|\bdemande[zr]?\b|\bmédecin|\bkiné|\bappele[zr]|\bdites-(?:le-)?moi|\bconsulte[zr]",
    not_before=r"\b(?:ne|jamais|sans|au lieu de|plutôt que|évite[zr]|ni)\b|\bn'",
    only_if=r"\b(?:si|quand|lorsque|une fois|dès que|jusqu'à|tant que|avant|seulement|demande[zr]?)\b",
)

_JA_DOCTOR = r"(?:医者|医師|お医者さん|病院|理学療法士|医療機関|整形外科)"
_JA_PAIN = r"(?:痛み|痛く|痛い|痛む|痛んで|しびれ|めまい|息苦し|違和感|胸の圧迫)"
JAPANESE = Tongue(
    pain=_JA_PAIN,
    painless=r"痛み(?:が|の|も)?(?:なく|ない|消え|なくな)(?!して)|痛くない|痛まない",
    waves_off=(
        r"痛み?なくして",
        (
            r"(?:痛み|しびれ|めまい|違和感|多少の痛み)(?:を|は|なんて|くらい|ぐらい|など)?[^。、]{0,6}?(?:無視し(?:て(?!は|も)|ま(?!せん)|よ)"
            r"|無視する(?!な|の|と|こと|べきでは)|我慢し(?:て(?!は|も)|ま(?!せん)|よ)|我慢する(?!な|の|と|こと|必要)"
            r"|こらえて(?!は)|耐えて(?!は)|気にし(?:ない|なくて)|気にせず|押し切|乗り越え(?:て(?!は)|よう|ましょう))(?!.{0,6}(?:いけ|だめ|ないで))"
        ),
        r"(?:痛み|しびれ|めまい)は[^。、]{0,6}?(?:正常|普通|当たり前|当然|弱さ|気のせい|問題(?:ない|ありません)|心配(?:ない|ありません)|いい(?:こと|しるし))",
    ),
    goes_on=(
        (
            r"(?:痛|しび)[^。、]{0,6}(?:ても|でも)[^。]{0,12}?(?:続け(?!ない|ません|ず|るな|てはい)|打ち続け|打って(?!は)|打とう|打ちま(?!せん)"
            r"|振って(?!は)|振り(?!返)|練習し(?:て(?!は)|ま(?!せん)|よう)|やめない(?!と)|やめず|止めない(?!と)|大丈夫|構わ|かまわ|平気|頑張)"
        ),
    ),
    clears=(
        r"(?:もう|すっかり|完全に)[^。、]{0,8}?(?:治って(?!から|いな)|治りました|治った(?!ら|後|あと|か)|回復して(?!から|いな)|回復しました)",
        r"完治し(?:ました|ています)(?!か)",
        rf"{_JA_DOCTOR}(?:に|は|へ|には|の診察は|の許可は)?[^。、]{{0,8}}?(?:行かなくて|必要(?:は)?(?:ない|ありません)|不要|いらない|いりません|聞かなくて|相談しなくて)",
    ),
    seeks_help=r"やめて(?!は)|やめましょう|中止|受診|診て|相談して(?!は)",
    not_before=r"(?!)",
    only_if=r"(?!)",
)

_KO_DOCTOR = r"(?:의사|병원|물리치료사|전문의)"
KOREAN = Tongue(
    pain=r"(?:통증|아프|아파|아픔|고통|저리|저림|어지러|가슴이 답답)",
    painless=r"통증(?:이)? ?없(?!이는)|아프지 ?않",
    waves_off=(
        r"(?:고통|아픔|통증) ?없이는? ?(?:얻|성과|이득|발전)",
        (
            r"(?:통증|아픔|고통|저림)(?:을|은|이|도|쯤은)?[^.,]{0,6}?(?:무시하(?:고|세요|면 ?돼|면 ?됩|자|고서)|무시해(?!서|선|도)|참고|참으세요|참아(?:요|야 ?해|야 ?합)"
            r"|견디(?:고|세요|며)|이겨 ?내|신경 ?쓰지 ?마|잊(?:고|으세요))(?!.{0,8}(?:지 ?마|안 ?돼|안 ?됩|말고))"
        ),
        r"(?:통증|아픈 ?것|아픔)(?:은|이|는)? ?[^.,]{0,6}?(?:정상|당연|자연스러|약하다는|괜찮|문제 ?없|걱정 ?없)",
    ),
    goes_on=(
        r"아파도 ?[^.]{0,12}?(?:계속(?!.{0,8}(?:지 ?마|안 ?돼|안 ?됩))|치세요|참으|참고|괜찮|멈추지 ?마|연습하(?:세요|고|자)|스윙하(?:세요|고|자))",
    ),
    clears=(
        r"(?:다|완전히|이제) ?(?:나았(?!으면|다면|는지|을)|회복(?:됐|되었|했)(?!으면|다면|는지|을)|완치(?:됐|되었)(?!으면|다면|는지|을))",
        (
            rf"{_KO_DOCTOR}(?:에|는|은|한테|에게|에는|를|을|가|이)? ?[^.,]{{0,10}}?(?:안 ?가도|갈 ?필요(?:는|가)? ?없|필요(?:는|가)? ?없|볼 ?필요(?:는|가)? ?없"
            r"|물어볼 ?필요(?:는|가)? ?없|필요하지 ?않)"
        ),
    ),
    seeks_help=r"(?<!안 )멈추(?:세요|고)|멈춰|물어보|진찰|그만",
    not_before=r"(?!)",
    only_if=r"(?!)",
)

TONGUES = (ENGLISH, GERMAN, SPANISH, FRENCH, JAPANESE, KOREAN)
