"""Files from other countries: their names for the numbers, the blocks, the averages."""

from pathlib import Path

import pytest

from recapgen.intake.table.all_files import read_shots
from recapgen.intake.table.section_columns import Setting
from recapgen.model.people import Coach
from recapgen.model.quantity import Quantity
from recapgen.model.shots import Block

FILES = {
    "German": (
        "Schlag;Datum;Uhrzeit;Schläger;Phase;Schlägerkopfgeschwindigkeit (km/h);"
        "Ballgeschwindigkeit (km/h);Abflugwinkel (Grad);Spinrate (U/min);Fluglänge (m)\n"
        "1;11.04.2027;10:21:00;Eisen 7;vorher;125,9;162,3;15,8;5152;123,3\n"
        "2;11.04.2027;10:24:00;Eisen 7;nachher;128,7;166,1;16,1;5201;127,9\n"
        "Durchschnitt;;;;;127,3;164,2;16,0;5177;125,6\n"
    ),
    "German, without dots": (
        "Schlag;Schlaeger;Abschnitt;Schlaegerkopfgeschwindigkeit [km/h];Ballgeschwindigkeit [km/h];"
        "Abflugwinkel [deg];Drehzahl [U/min];Flugweite [m]\n"
        "1;7er Eisen;davor;125,9;162,3;15,8;5152;123,3\n"
        "2;7er Eisen;danach;128,7;166,1;16,1;5201;127,9\n"
    ),
    "French": (
        "Coup\tHeure\tClub\tÉtape\tVitesse de club (km/h)\tVitesse de balle (km/h)\t"
        "Angle de lancement (degrés)\tTaux de spin (tr/min)\tPortée (m)\n"
        "1\t10:21:00\tFer 7\tavant\t125,9\t162,3\t15,8\t5152\t123,3\n"
        "2\t10:24:00\tFer 7\taprès\t128,7\t166,1\t16,1\t5201\t127,9\n"
        "Moyenne\t\t\t\t127,3\t164,2\t16,0\t5177\t125,6\n"
    ),
    "Spanish": (
        "Golpe;Palo;Fase;Velocidad del palo (km/h);Velocidad de bola (km/h);"
        "Ángulo de lanzamiento (grados);Velocidad de giro (rpm);Distancia de vuelo (m)\n"
        "1;Hierro 7;antes;125,9;162,3;15,8;5152;123,3\n"
        "2;Hierro 7;después;128,7;166,1;16,1;5201;127,9\n"
        "Promedio;;;127,3;164,2;16,0;5177;125,6\n"
    ),
    "Japanese": (
        "ショット,番手,フェーズ,ヘッドスピード (km/h),ボール初速 (km/h),打ち出し角 (度),"
        "スピン量 (rpm),キャリー (m)\n"
        "1,7番アイアン,前,125.9,162.3,15.8,5152,123.3\n"
        "2,7I,後,128.7,166.1,16.1,5201,127.9\n"
        "平均,,,127.3,164.2,16.0,5177,125.6\n"
    ),
    "Korean": (
        "샷,클럽,단계,헤드 스피드 (km/h),볼 스피드 (km/h),발사각 (도),스핀량 (rpm),캐리 (m)\n"
        "1,7번 아이언,전,125.9,162.3,15.8,5152,123.3\n"
        "2,7I,후,128.7,166.1,16.1,5201,127.9\n"
        "평균,,,127.3,164.2,16.0,5177,125.6\n"
    ),
}


@pytest.mark.parametrize("tongue", FILES)
def test_a_file_in_the_coachs_own_tongue_is_read(tmp_path: Path, tongue: str) -> None:
    path = tmp_path / "marta" / "2027-04-11" / "shots.csv"
    path.parent.mkdir(parents=True)
    path.write_text(FILES[tongue], encoding="utf-8")
    table, problems = read_shots(tmp_path, (path,), Setting(Coach("Ines Falk")))
    assert problems == ()
    assert table is not None
    assert [(s.number, s.club, s.block) for s in table.shots] == [
        (1, "7 iron", Block.BEFORE),
        (2, "7 iron", Block.AFTER),
    ]
    assert table.shots[0].readings == pytest.approx(
        {
            Quantity.CLUB_SPEED: 125.9 / 3.6,
            Quantity.BALL_SPEED: 162.3 / 3.6,
            Quantity.LAUNCH_ANGLE: 15.8,
            Quantity.SPIN_RATE: 5152,
            Quantity.CARRY: 123.3,
        }
    )
