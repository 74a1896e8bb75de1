"""What golfers of other tongues call the numbers: German, Spanish, French, Japanese, Korean.

A coach's files carry the headings of the place. The keys of the notes stay English.
"""

from collections.abc import Iterator, Mapping

from recapgen.model.quantity import Quantity

_NAMES: Mapping[Quantity, str] = {
    Quantity.CLUB_SPEED: (
        "schlägerkopfgeschwindigkeit, schlägergeschwindigkeit, schlägerkopftempo, schlägergeschw, "
        "schlägerkopfgeschw, vel palo, vel del palo, vit club, vit du club, "
        "velocidad del palo, velocidad de palo, velocidad de la cabeza del palo, "
        "vitesse de club, vitesse du club, vitesse club, vitesse de la tête de club, "
        "vitesse de tête de club, ヘッドスピード, クラブスピード, 헤드 스피드, 클럽 스피드, "
        "헤드 속도, 클럽 속도"
    ),
    Quantity.BALL_SPEED: (
        "ballgeschwindigkeit, ballgeschw, ballanfangsgeschwindigkeit, balltempo, vel bola, "
        "vel de bola, vit balle, vit de balle, velocidad de bola, velocidad de la bola, "
        "velocidad de pelota, velocidad de la pelota, vitesse de balle, vitesse de la balle, "
        "vitesse balle, ボールスピード, ボール初速, 初速, 볼 스피드, 볼 속도, 공 속도"
    ),
    Quantity.SMASH_FACTOR: (
        "smashfaktor, factor de smash, factor smash, facteur de smash, facteur smash, ミート率, "
        "スマッシュファクター, 스매시 팩터, 스매쉬 팩터"
    ),
    Quantity.ATTACK_ANGLE: (
        "angriffswinkel, eintreffwinkel, eintauchwinkel, ángulo de ataque, angle d'attaque, "
        "アタックアングル, アタック角, 入射角, 어택 앵글, 입사각"
    ),
    Quantity.LOW_POINT: "tiefpunkt, tiefster punkt, punto bajo, point bas, 最下点, 최저점",
    Quantity.DYNAMIC_LOFT: (
        "dynamischer loft, loft im treffmoment, loft dinámico, loft dynamique, "
        "ダイナミックロフト, 다이내믹 로프트, 다이나믹 로프트"
    ),
    Quantity.SPIN_LOFT: "spinloft, スピンロフト, 스핀 로프트",
    Quantity.CLUB_PATH: (
        "schwungbahn, schlägerbahn, schlägerpfad, trayectoria del palo, recorrido del palo, "
        "chemin de club, chemin du club, クラブパス, クラブ軌道, スイング軌道, 클럽 패스, "
        "클럽 경로, 스윙 궤도"
    ),
    Quantity.FACE_ANGLE: (
        "schlagflächenwinkel, schlagflächenstellung, blattwinkel, ángulo de la cara, "
        "ángulo de cara, angle de face, angle de la face, フェースアングル, フェース角, "
        "フェースの向き, 페이스 앵글, 페이스 각, 페이스 각도"
    ),
    Quantity.FACE_TO_PATH: (
        "schlagfläche zur schwungbahn, schlagfläche zu schwungbahn, cara a trayectoria, "
        "cara respecto a la trayectoria, face par rapport au chemin, face chemin, "
        "angle face-chemin, フェーストゥパス, フェース対パス, 페이스 투 패스"
    ),
    Quantity.LAUNCH_ANGLE: (
        "abflugwinkel, startwinkel, ángulo de lanzamiento, ángulo de salida, angle de lancement, "
        "angle de décollage, angle d'envol, 打ち出し角, 打出し角, 打出角, 打ち出し角度, 발사각, "
        "탄도각, 런치 앵글"
    ),
    Quantity.LAUNCH_DIRECTION: (
        "abflugrichtung, startrichtung, dirección de lanzamiento, dirección de salida, "
        "direction de lancement, direction de départ, 打ち出し方向, 打出し方向, 打出方向, "
        "발사 방향, 출발 방향"
    ),
    Quantity.SPIN_RATE: (
        "spinrate, drehzahl, tasa de giro, velocidad de giro, taux de spin, taux de rotation, "
        "vitesse de rotation, スピン量, スピンレート, 스핀량, 스핀 레이트"
    ),
    Quantity.SPIN_AXIS: (
        "spinachse, drehachse, eje de giro, eje de spin, axe de spin, axe de rotation, スピン軸, "
        "スピンアクシス, 스핀축, 스핀 축"
    ),
    Quantity.APEX: (
        "scheitelhöhe, gipfelhöhe, flughöhe, maximale höhe, max höhe, höhe, altura, hauteur, "
        "高さ, 높이, altura máxima, hauteur maximale, "
        "hauteur max, 最高到達点, 最高点, 頂点, 최고 높이, 최고점"
    ),
    Quantity.CURVE: (
        "krümmung, kurve, curva, curvatura, courbe, courbure, 曲がり, 曲がり幅, 휘어짐, 휘는 폭, "
        "커브"
    ),
    Quantity.DESCENT_ANGLE: (
        "landewinkel, einfallswinkel, ángulo de descenso, ángulo de caída, angle de descente, "
        "angle d'atterrissage, 落下角, 落下角度, 降下角, 착지각, 낙하각"
    ),
    Quantity.CARRY: (
        "fluglänge, flugweite, carrylänge, carryweite, vuelo, distancia de vuelo, "
        "distancia de carry, portée, distance de vol, distance de carry, キャリー, "
        "キャリー距離, 캐리, 캐리 거리"
    ),
    Quantity.CARRY_SIDE: (
        "carry seitlich, seitliche abweichung carry, seitenabweichung beim carry, "
        "desviación lateral de vuelo, desvío al caer, écart latéral au carry, キャリーサイド, "
        "キャリーの左右のずれ, 캐리 좌우, 캐리 좌우 편차"
    ),
    Quantity.TOTAL: (
        "gesamt, gesamtlänge, gesamtweite, gesamtdistanz, gesamtentfernung, distancia total, "
        "distance totale, 総飛距離, トータル飛距離, トータル距離, トータル, 총 거리, 토탈 거리"
    ),
    Quantity.TOTAL_SIDE: (
        "gesamt seitlich, seitliche abweichung gesamt, seitenabweichung gesamt, "
        "desviación lateral total, desvío total, écart latéral total, トータルサイド, "
        "トータルの左右のずれ, 토탈 좌우, 총거리 좌우 편차"
    ),
    Quantity.TRAVEL_ACROSS: (
        "weg zur seite, déplacement de côté, recorrido lateral, 左右の動き, 좌우 움직임"
    ),
    Quantity.TRAVEL_UP: (
        "weg nach oben, déplacement vers le haut, recorrido hacia arriba, 上下の動き, 상하 움직임"
    ),
    Quantity.ON_LINE: (
        "auf der linie gestartete bälle, auf der linie, durchs tor, balles parties sur la ligne, "
        "bolas que salen en línea, ねらった線に出た球, 겨눈 선으로 출발한 공"
    ),
    Quantity.IN_CIRCLE: (
        "bälle im kreis, im kreis, balles dans le cercle, bolas en el círculo, 円に入った球, "
        "원 안에 든 공"
    ),
    Quantity.HOLED: (
        "gelochte bälle, gelocht, gelochte putts, balles rentrées, putts rentrés, "
        "bolas embocadas, putts embocados, カップイン, 홀에 들어간 공, 홀인"
    ),
    Quantity.UP_AND_DOWN: "approches-putts réussis, recuperaciones, 寄せワン, 업 앤드 다운",
    Quantity.GREEN_HIT: (
        "getroffene grüns, grüns getroffen, greens touchés, greens acertados, "
        "グリーンに乗った球, パーオン, 그린에 올라간 공, 그린 적중"
    ),
    Quantity.FAIRWAY_HIT: (
        "getroffene fairways, fairways getroffen, fairways touchés, calles acertadas, "
        "フェアウェイに乗った球, フェアウェイキープ, 페어웨이에 멈춘 공, 페어웨이 적중"
    ),
    Quantity.DISTANCE_LEFT: (
        "restdistanz, distance restante, distancia al hoyo, カップまでの残り距離, 홀까지 남은 거리"
    ),
    Quantity.PACE: "längendosierung, dosage, control de distancia, 距離感, 거리감",
}
_SIDE = (Quantity.CARRY_SIDE, Quantity.TOTAL_SIDE)
_LENGTH = (Quantity.CARRY, Quantity.TOTAL)
_LOOSE: Mapping[tuple[Quantity, ...], str] = {
    _SIDE: (
        "seitenabweichung, seitliche abweichung, seitl abweichung, seitenabw, abweichung, "
        "seitlich, seite, streuung, desvío, desvío lateral, desviación, desviación lateral, "
        "lateralidad, écart, écart latéral, déviation, déviation latérale, dispersion latérale, "
        "左右, 左右ブレ, 左右のブレ, 左右差, 左右のずれ, 横ずれ, 横ブレ, サイド, ブレ, "
        "좌우, 좌우 편차, 좌우 거리, 좌우 이탈, 사이드, 편차"
    ),
    _LENGTH: (
        "länge, weite, distanz, entfernung, schlagweite, schlaglänge, distancia, longitud, "
        "longueur, 飛距離, 距離, 비거리, 거리"
    ),
    (Quantity.CLUB_SPEED, Quantity.BALL_SPEED): (
        "geschwindigkeit, tempo, velocidad, vitesse, スピード, 速度, 스피드, 속도"
    ),
}
_TWO_LETTERS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue"})


def names_abroad(quantity: Quantity) -> Iterator[str]:
    """Each name, and for German vowels the spelling without dots ("schlaeger...")."""
    for name in _NAMES.get(quantity, "").split(", "):
        if name:
            yield from _spelt(name)


def loose_names_abroad() -> Iterator[tuple[str, tuple[Quantity, ...]]]:
    """Each name that may stand for several quantities, spelt as above, with them."""
    for quantities, names in _LOOSE.items():
        for name in names.split(", "):
            yield from ((spelt, quantities) for spelt in _spelt(name))


def _spelt(name: str) -> Iterator[str]:
    yield name
    if name.translate(_TWO_LETTERS) != name:
        yield name.translate(_TWO_LETTERS)
