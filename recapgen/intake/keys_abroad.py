"""The keys of the coach's files as a coach of another tongue would write them.

The files' keys are English, so that they read alike everywhere; a word of this list is told with
the English key, and never taken for a key that is merely not known. German, French, Spanish,
Japanese, Korean; for what matters most Italian, Portuguese and Dutch, too.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from functools import cache
from unicodedata import combining, normalize

_WORDS: Mapping[str, str] = {
    # notes.md
    "intent": (
        "absicht, vorhaben, idee, gedanke, ziel, intention, objectif, consigne, intención, "
        "objetivo, propósito, idea, intento, obiettivo, intenção, bedoeling, doel, 意図, 目的, "
        "狙い, ねらい, 目標, 課題, 의도, 목표, 목적, 과제"
    ),
    "feels like": (
        "gefühl, fühlt sich an wie, fühlt sich so an, sensation, ressenti, sensación, "
        "se siente como, sensazione, sensação, gevoel, 感覚, 感じ, フィーリング, "
        "感じること, 느낌, 감각"
    ),
    "student says": (
        "schüler sagt, schülerin sagt, der schüler sagt, sagt der schüler, l'élève dit, élève dit, "
        "dit l'élève, el alumno dice, alumno dice, la alumna dice, allievo dice, aluno diz, "
        "leerling zegt, 生徒の言葉, 生徒の声, 本人の言葉, 학생 말, 학생의 말, 본인 말"
    ),
    "letting go of": (
        "loslassen, weglassen, laisser tomber, abandonner, soltar, dejar, lasciare, largar, "
        "loslaten, やめること, 手放すこと, 버릴 것, 내려놓기"
    ),
    "kind": "art, typ, genre, type, sorte, tipo, clase, soort, 種類, タイプ, 종류, 유형",
    "club": "schläger, bâton, palo, bastone, taco, クラブ, 番手, 使用クラブ, 클럽, 채",
    "number": (
        "zahl, kennzahl, messwert, messgröße, wert, nombre, chiffre, mesure, valeur, número, "
        "cifra, medida, valor, numero, misura, getal, "
        "maat, 数字, 数値, 項目, 指標, 숫자, 수치, 지표"
    ),
    "chosen": (
        "gewählt, ausgewählt, choisi, choisie, elegido, elegida, scelto, escolhido, gekozen, "
        "選択, 決めた時, 選んだ時, 선택, 정한 때"
    ),
    "want": (
        "wunsch, soll, gewünscht, gewollt, möchte, souhait, souhaité, voulu, vouloir, je veux, "
        "cible, deseado, quiero, querer, "
        "deseo, desiderato, desejado, gewenst, 希望, 目標値, 方向, 원하는 것, 희망, 목표값, "
        "ziel, objectif, objetivo, obiettivo, doel, 目標, 狙い, ねらい, 목표"
    ),
    "matters": (
        "zählt ab, wichtig ab, ab wann wichtig, ab wann es zählt, bedeutsam ab, relevant ab, "
        "ab wann, compte à partir de, important à partir de, à partir de, importe, "
        "seuil, importa, importante desde, a partir de, cuenta desde, umbral, conta, "
        "telt vanaf, 意味のある差, 最小の差, 의미 있는 차이, 최소 차이"
    ),
    "must not lose": (
        "darf nicht verlieren, nicht verlieren, ne pas perdre, no perder, no debe perder, "
        "non perdere, não perder, niet verliezen, 失わないもの, 失ってはいけない, 잃지 말 것"
    ),
    "shots": (
        "schläge, bälle, frappes, coups, balles, golpes, tiros, colpi, tacadas, slagen, ショット, "
        "打球, 샷, 타구"
    ),
    "left out": (
        "ausgelassen, weggelassen, omis, écarté, écartés, excluidos, omitidos, esclusi, excluídos, "
        "weggelaten, 除外, 除いた球, 제외, 뺀 샷"
    ),
    "mishits": (
        "fehlschläge, fehltreffer, ratés, coups ratés, fallos, malos golpes, colpi sbagliati, "
        "misslagen, ミスショット, ミス, 미스샷, 실수"
    ),
    "moved": "bewegt, verschoben, déplacé, movido, spostato, verplaatst, 動かした物, 옮긴 것",
    "conditions": (
        "bedingungen, verhältnisse, condiciones, condizioni, condições, omstandigheden, 条件, "
        "環境, 조건, 환경"
    ),
    "clips": (
        "videos, filme, aufnahmen, vidéos, films, vídeos, grabaciones, video, filmpjes, 動画, "
        "ビデオ, 映像, クリップ, 영상, 동영상, 비디오, 클립"
    ),
    "practice": (
        "übung, übungen, training, übungsplan, entraînement, exercices, pratique, práctica, "
        "ejercicios, entrenamiento, pratica, allenamento, prática, treino, oefening, 練習, "
        "練習計画, 연습, 연습 계획"
    ),
    "care": "vorsicht, achtung, prudence, attention, cuidado, attenzione, voorzichtig, 注意, 주의",
    "case": "fall, cas, caso, geval, 事例, 사례",
    "see also": "siehe auch, voir aussi, ver también, vedi anche, ver também, zie ook, 関連, 참고",
    "planned": "geplant, prévu, planeado, previsto, pianificato, gepland, 予定, 계획",
    "swings": "schwünge, élans, swing, oscilaciones, スイング, 스윙",
    "compare": "vergleiche, vergleich, comparer, comparar, confronta, vergelijk, 比較, 비교",
    "short name": "kurzname, nom court, nombre corto, nome breve, korte naam, 略称, 짧은 이름",
    # blocks, conditions, clips
    "before": "vorher, davor, zuvor, avant, antes, prima, voor, 前, 変える前, 전, 바꾸기 전",
    "after": "nachher, danach, après, después, ahora, dopo, depois, na, 後, 変えた後, 후, 바꾼 뒤",
    "surface": "untergrund, boden, surface de jeu, superficie, suelo, terreno, 地面, マット, 바닥",
    "indoors": "drinnen, innen, halle, intérieur, interior, bajo techo, 屋内, 室内, 실내",
    "ball": "balle, bola, pelota, palla, ボール, 볼, 공",
    "temperature": "temperatur, température, temperatura, 気温, 温度, 기온, 온도",
    "humidity": "feuchte, luftfeuchtigkeit, humidité, humedad, umidità, 湿度, 습도",
    "pressure": "druck, luftdruck, pression, presión, pressione, 気圧, 기압",
    "wind": "vent, viento, vento, 風, 바람",
    "target": "ziellinie, zielrichtung, ligne de cible, dirección, 目標方向, 방위",
    "altitude": "höhe, höhenlage, altura, altitud, hoogte, 標高, 고도",
    "file": "datei, fichier, archivo, fichero, bestand, ファイル, 파일",
    "view": "ansicht, blick, vue, vista, 向き, アングル, 시점, 방향",
    "shot": "schlag, frappe, coup, golpe, tiro, colpo, 打, 球, 샷 번호",
    "block": "abschnitt, bloc, bloque, blocco, ブロック, 区分, 블록, 구간",
    "impact": "treffmoment, treffer, contact, impacto, contacto, impatto, インパクト, 임팩트",
    # practice
    "sessions a week": (
        "einheiten pro woche, trainings pro woche, séances par semaine, sesiones por semana, "
        "sessioni a settimana, 週の回数, 週回数, 주당 횟수"
    ),
    "balls": "bälle, balles, bolas, pelotas, palle, ballen, 球数, 공 수, 볼 수",
    "minutes": "minuten, minutos, minuti, 分, 분",
    "weeks": "wochen, semaines, semanas, settimane, weken, 週, 週間, 주",
    "steps": "schritte, étapes, pasos, passi, stappen, 手順, 단계",
    # student.yml
    "name": "nom, nombre, nome, naam, 名前, 氏名, 이름",
    "hand": "händigkeit, spielhand, main, mano, mão, 利き手, 打ち手, 손, 사용 손",
    "age band": (
        "altersgruppe, alter, tranche d'âge, âge, edad, età, leeftijd, 年齢層, 年齢, 연령대, 나이"
    ),
    "units": "einheiten, unités, unidades, unità, eenheden, 単位, 단위",
    "language": "sprache, langue, idioma, lengua, lingua, taal, 言語, 언어",
    "clubs": "schläger, bâtons, palos, bastoni, tacos, クラブ, 클럽",
    "body": "körper, beschwerden, corps, cuerpo, corpo, lichaam, 体, 身体, 몸, 신체",
    "health": "gesundheit, santé, salud, salute, saúde, gezondheid, 健康, 건강",
    "agreed": (
        "einverstanden, zugestimmt, einwilligung, zustimmung, accord, d'accord, consentement, "
        "acordado, acuerdo, consentimiento, consenso, toestemming, 同意, 동의"
    ),
    "born": (
        "geburtsjahr, jahrgang, geboren, année de naissance, né en, née en, año de nacimiento, "
        "anno di nascita, geboortejaar, 生年, 生まれ, 출생 연도, 생년"
    ),
    "also called": (
        "spitzname, rufname, surnom, appelé aussi, appelée aussi, apodo, soprannome, "
        "bijnaam, 呼び名, ニックネーム, 별명"
    ),
    "email": "e-mail-adresse, mailadresse, courriel, correo, correo electrónico, メール, 이메일",
    "phone": "telefon, telefonnummer, handy, téléphone, teléfono, móvil, telefono, 電話, 전화",
    "relation": "verhältnis, lien, relación, parentesco, 続柄, 관계",
    "sheet": "bogen, formular, feuille, hoja, 用紙, 서식",
    "guardian": (
        "erziehungsberechtigte, erziehungsberechtigter, eltern, tuteur, parents, tutor, padres, "
        "genitore, ouders, 保護者, 보호자"
    ),
    "page": "seite, page web, página, pagina, ページ, 페이지",
    "cases": "fälle, cas, casos, casi, 事例, 사례",
    "since": "seit, ab, depuis, desde, da, sinds, 開始日, から, 시작일, 부터",
    "until": "bis, jusqu'à, jusqu'au, hasta, fino a, até, tot, 終了日, まで, 종료일, 까지",
    "withdrawn": "widerrufen, zurückgezogen, retiré, retirado, ritirato, 撤回, 철회",
    # coach.yml
    "lock": (
        "schloss, abgeschlossen, abschließen, sperre, gesperrt, passwort, verrou, verrouillé, "
        "mot de passe, llave, cerrado, bloqueado, contraseña, bloccato, ロック, 鍵, パスワード, "
        "잠금, 비밀번호"
    ),
    "coach": "trainer, trainerin, entraîneur, entrenador, entrenadora, allenatore, コーチ, 코치",
    "greeting": "gruß, begrüßung, salutation, saludo, saluto, 挨拶, 인사말, 인사",
    "footer": "fußzeile, pied de page, pie de página, フッター, 바닥글",
    "accent": "farbe, couleur, color, colore, kleur, 色, 색",
    "columns": "spalten, colonnes, columnas, colonne, kolommen, 列, 열",
    "place": "ort, platz, lieu, lugar, luogo, plaats, 場所, 장소",
    "speed": "geschwindigkeit, tempo, vitesse, velocidad, velocità, 速度, 속도",
    "length": "länge, entfernung, longueur, distance, longitud, distancia, 長さ, 距離, 거리",
    "intents": "absichten, intentions, intenciones, intenzioni, 意図, 의도",
    "misses": "fehlschläge, coups ratés, fallos, errori, ミス, 미스",
    "device": "gerät, appareil, dispositivo, aparato, 機器, 장비",
    "contact": "kontakt, contacto, contatto, 連絡先, 연락처",
    "published at": "veröffentlicht unter, publié à, publicado en, 公開先, 공개 주소",
}  # fmt: skip


def in_english(word: str, keys: Iterable[str]) -> tuple[str, ...]:
    """Which of ``keys`` the foreign ``word`` (in plain form) may name, likeliest first."""
    meant = _keys_by_word().get(_bare(word), ())
    known = set(keys)
    return tuple(key for key in meant if key in known)


@cache
def _keys_by_word() -> Mapping[str, tuple[str, ...]]:
    by_word: defaultdict[str, list[str]] = defaultdict(list)
    for key, told in _WORDS.items():
        for word in told.split(","):
            by_word[_bare(word)].append(key)
    return {word: tuple(dict.fromkeys(keys)) for word, keys in by_word.items()}


def _bare(word: str) -> str:
    """Without accents and capitals: "Übung", "uebung" and "ubung" are one."""
    apart = normalize("NFKD", word.casefold().replace("ß", "ss").replace("’", "'"))
    plain = "".join(c for c in apart if not combining(c))
    for typed, letter in (("ae", "a"), ("oe", "o"), ("ue", "u")):
        plain = plain.replace(typed, letter)
    return " ".join(normalize("NFC", plain).split())
