"""The trade's words for every quantity, in the languages that teachers keep their files in.

Plain trade words only, no maker's layout. A phrase is written in lower case, without accents and marks
(``plain_words`` brings headings into the same form). A new word is one entry here.
"""

import re
import unicodedata
from functools import lru_cache

FIELD_WORDS: dict[str, tuple[str, ...]] = {
    "club_speed_mps": (
        "club speed", "club head speed", "clubhead speed", "head speed", "swing speed", "club velocity", "chs",
        "club spd", "club vel", "schlagerkopfgeschwindigkeit", "schlagergeschwindigkeit",
        "schlaegergeschwindigkeit", "schlagerkopf tempo", "vitesse de club", "vitesse club",
        "vitesse tete de club", "velocidad del palo", "velocidad palo", "velocidad de la cabeza del palo",
        "velocita bastone", "velocita testa bastone", "velocita del bastone", "klubbhastighet",
        "klubbhuvudhastighet", "clubsnelheid", "clubhoofdsnelheid", "velocidade do taco",
        "velocidade da cabeca do taco", "kollehastighed", "kollehode hastighet", "mailan nopeus",
        "ヘッドスピード", "クラブスピード", "クラブヘッドスピード", "헤드 스피드", "클럽 스피드", "클럽 속도",
        "헤드 속도", "杆头速度", "球杆速度"),
    "ball_speed_mps": (
        "ball speed", "ball velocity", "ball spd", "ball vel", "initial ball speed", "initial velocity",
        "ballgeschwindigkeit", "ball tempo", "vitesse de balle", "vitesse balle", "velocidad de bola",
        "velocidad bola", "velocidad de la bola", "velocita palla", "velocita della palla", "bollhastighet",
        "balsnelheid", "velocidade da bola", "velocidade bola", "boldhastighed", "ballhastighet",
        "pallon nopeus", "ボールスピード", "初速", "ボール初速", "볼 스피드", "볼 속도", "공 속도", "球速"),
    "smash_factor": (
        "smash factor", "smash", "smash fac", "smashfaktor", "smash faktor", "facteur de smash",
        "factor smash", "fattore smash", "smashfactor", "fator smash", "ミート率", "スマッシュファクター",
        "스매시 팩터", "击球效率"),
    "club_path_deg": (
        "club path", "path", "swing path", "club path angle", "path angle", "clubhead path", "club head path",
        "schwungbahn", "schlagerbahn", "schlagerweg", "schlagerpfad", "schwungpfad", "chemin de club",
        "chemin du club",
        "trajectoire du club", "trayectoria del palo", "camino del palo", "percorso bastone",
        "traiettoria bastone", "klubbana", "svingbana", "clubpad", "swingpad", "caminho do taco",
        "クラブパス", "クラブ軌道", "スイング軌道", "클럽 패스", "클럽 궤도", "杆头轨迹", "挥杆路径"),
    "face_angle_deg": (
        "face angle", "face to target", "club face", "clubface", "face", "face target", "club face angle",
        "face to target angle", "schlagflache", "schlagflachenwinkel", "schlagflachenstellung", "face winkel",
        "angle de face", "face de club", "face club", "angulo de la cara", "angulo de cara", "cara del palo",
        "angolo faccia", "faccia bastone", "bladvinkel", "klubbladsvinkel", "clubblad", "bladhoek",
        "angulo da face", "face do taco", "フェースアングル", "フェース角", "フェイス角", "フェイスアングル",
        "페이스 앵글", "페이스 각도", "杆面角度"),
    "face_to_path_deg": (
        "face to path", "face path", "face to path angle", "f2p", "ftp", "schlagflache zu bahn",
        "schlagflache zur bahn", "face zu path", "face chemin", "face par rapport au chemin",
        "cara respecto a trayectoria", "cara a trayectoria", "faccia percorso", "blad mot bana",
        "bladvinkel mot bana", "blad ten opzichte van pad", "face em relacao ao caminho", "フェーストゥパス",
        "フェイストゥパス", "페이스 투 패스", "杆面对路径"),
    "attack_angle_deg": (
        "attack angle", "angle of attack", "attack", "aoa", "attack ang", "eintreffwinkel", "angriffswinkel",
        "treffwinkel", "angle d attaque", "angle attaque", "angulo de ataque", "angolo di attacco",
        "angolo attacco", "attackvinkel", "anfallsvinkel", "aanvalshoek", "アタックアングル", "入射角",
        "어택 앵글", "입사각", "攻击角"),
    "dynamic_loft_deg": (
        "dynamic loft", "dyn loft", "delivered loft", "loft at impact", "impact loft", "dynamischer loft",
        "loft dynamique", "loft dinamico", "dynamiskt loft", "dynamische loft", "ダイナミックロフト",
        "다이내믹 로프트", "动态杆面倾角"),
    "spin_loft_deg": (
        "spin loft", "spinloft", "loft de spin", "スピンロフト", "스핀 로프트"),
    "launch_angle_deg": (
        "launch angle", "launch", "launch ang", "vertical launch", "vertical launch angle", "vla", "launch v",
        "take off angle", "abflugwinkel", "startwinkel", "abschlagwinkel", "angle de lancement",
        "angle de depart", "angle de decollage", "angulo de lanzamiento", "angulo de salida",
        "angolo di lancio", "angolo lancio", "utgangsvinkel", "startvinkel", "lanceerhoek", "angulo de lancamento",
        "打ち出し角", "打出角", "打ち出し角度", "打ち出し角 上下", "발사각", "탄도각", "런치 앵글", "起飞角"),
    "launch_direction_deg": (
        "launch direction", "start direction", "start line", "horizontal launch", "horizontal launch angle",
        "horizontal angle", "hla", "launch h", "launch dir", "azimuth", "side angle", "initial direction",
        "startrichtung", "abflugrichtung", "direction de depart", "direction de lancement",
        "direction initiale", "direccion de salida", "direccion de lanzamiento", "direzione di lancio",
        "direzione di partenza", "startriktning", "utgangsriktning", "startrichting", "lanceerrichting",
        "direcao de lancamento", "direcao inicial", "打ち出し方向", "打ち出し角 左右", "방향각", "발사 방향",
        "起飞方向"),
    "spin_rpm": (
        "spin", "spin rate", "total spin", "ball spin", "spin rpm", "spinrate", "drall", "spin gesamt",
        "gesamtspin", "spinnrate", "taux de spin", "spin total", "tasa de spin", "rotation de balle",
        "velocidad de giro", "spin totale", "totalspinn", "spinn", "totale spin", "taxa de spin",
        "スピン量", "スピン", "総スピン量", "스핀량", "스핀", "총 스핀", "旋转"),
    "spin_axis_deg": (
        "spin axis", "spin tilt", "axis tilt", "tilt axis", "spin tilt axis", "axis", "spinachse",
        "drehachse", "spin achse", "axe de spin", "axe de rotation", "eje de spin", "eje de giro",
        "asse di spin", "asse di rotazione", "spinnaxel", "spinaxel", "spinas", "eixo de spin",
        "eixo de rotacao", "スピン軸", "회전축", "스핀 축", "旋转轴"),
    "carry_m": (
        "carry", "carry distance", "carry dist", "carry flat", "carry length", "flugweite", "carry weite",
        "carry lange", "carry distanz", "distance de carry", "portee", "distancia de carry", "vuelo",
        "distancia de vuelo", "distanza di carry", "volo", "carrylangd", "carry langd", "carryafstand",
        "distancia carry", "キャリー", "キャリー距離", "캐리", "캐리 거리", "비거리 캐리", "落点距离"),
    "side_m": (
        "side", "offline", "off line", "lateral", "side carry", "carry side", "deviation", "side distance",
        "lateral distance", "lateral deviation", "offline distance", "distance offline", "carry offline",
        "carry deviation", "abweichung", "seitliche abweichung", "seitenabweichung",
        "seitabweichung", "ecart", "ecart lateral", "deviation laterale", "desviacion", "desviacion lateral",
        "deviazione", "deviazione laterale", "sidavvikelse", "avvikelse", "sida", "zijwaartse afwijking",
        "afwijking", "desvio", "desvio lateral", "左右ブレ", "サイド", "左右", "横ブレ", "좌우 편차", "좌우",
        "편차", "左右偏差"),
    "total_m": (
        "total", "total distance", "total dist", "total length", "gesamt", "gesamtweite", "gesamtdistanz",
        "gesamtlange", "distance totale", "distancia total", "distanza totale", "total langd", "totallangd",
        "totale afstand", "トータル", "総距離", "飛距離", "トータル飛距離", "총 거리", "총거리", "토탈",
        "总距离"),
    "apex_m": (
        "apex", "apex height", "max height", "maximum height", "peak height", "height", "flughohe",
        "maximale hohe", "scheitelhohe", "scheitelpunkt", "hohe", "hauteur", "hauteur max",
        "hauteur maximale", "altura", "altura maxima", "altezza", "altezza massima", "hojd", "maxhojd",
        "hoogte", "maximale hoogte", "最高到達点", "最高点", "高さ", "최고 높이", "최고점", "高度"),
    "landing_angle_deg": (
        "landing angle", "land angle", "descent angle", "angle of descent", "landing ang", "descent",
        "landewinkel", "eintauchwinkel", "angle d atterrissage", "angle de descente",
        "angulo de aterrizaje", "angulo de caida", "angolo di atterraggio", "angolo di discesa",
        "landningsvinkel", "landingshoek", "angulo de aterragem", "angulo de descida", "落下角", "落下角度",
        "ランディングアングル", "낙하각", "착지각", "落地角"),
    "flight_time_s": (
        "flight time", "hang time", "time of flight", "air time", "flugzeit", "temps de vol",
        "tiempo de vuelo", "tempo di volo", "flygtid", "vluchttijd", "tempo de voo", "滞空時間", "체공 시간",
        "滞空时间"),
    "strike_heel_toe_mm": (
        "strike heel toe", "strike heel to toe", "heel toe", "strike horizontal", "horizontal strike",
        "impact horizontal", "horizontal impact", "impact heel toe", "toe heel", "lateral impact",
        "treffpunkt horizontal", "ferse spitze", "impact talon pointe", "talon pointe", "talon punta", "tacco punta",
        "hal ta", "hiel teen", "calcanhar ponta", "打点 左右", "タッチポイント 左右", "타점 좌우"),
    "strike_high_low_mm": (
        "strike high low", "strike high to low", "high low", "strike vertical", "vertical strike", "impact vertical",
        "vertical impact", "impact height", "strike height", "impact high low", "treffpunkt vertikal",
        "hoch tief", "impact haut bas", "haut bas", "alto bajo", "alto basso", "hog lag", "hoog laag",
        "alto baixo", "打点 上下", "타점 상하"),
    "low_point_cm": (
        "low point", "lowpoint", "low point distance", "tiefpunkt", "tiefster punkt", "point bas",
        "punto bajo", "punto basso", "lagsta punkt", "lagpunkt", "laagste punt", "ponto baixo",
        "最下点", "最下点距離", "최저점", "最低点"),
}

ROLE_WORDS: dict[str, tuple[str, ...]] = {
    "club": ("club", "club name", "club type", "club used", "clubname", "schlager", "schlaeger", "palo",
             "bastone", "mazza", "klubba", "taco", "kolle", "maila",
             "クラブ", "番手", "使用クラブ", "클럽", "사용 클럽", "球杆"),
    "player": ("player", "player name", "golfer", "student", "name", "spieler", "schuler", "joueur", "nom",
               "eleve", "jugador", "nombre", "alumno", "giocatore", "nome", "allievo", "spelare", "namn",
               "elev", "speler", "naam", "jogador", "aluno", "プレーヤー", "氏名", "名前", "선수", "이름",
               "姓名", "球员"),
    "when": ("date time", "datetime", "timestamp", "time stamp", "date and time", "hit at", "recorded at",
             "zeitstempel", "datum uhrzeit", "horodatage", "fecha y hora", "data e ora", "datum tid",
             "datum tijd", "data e hora", "日時", "일시", "日期时间"),
    "date": ("date", "day", "shot date", "datum", "tag", "jour", "fecha", "data", "giorno", "dia", "dato",
             "日付", "날짜", "日期"),
    "time": ("time", "time of day", "shot time", "clock", "uhrzeit", "zeit", "heure", "hora", "ora", "tid",
             "tijd", "時刻", "時間", "시간", "时间"),
}

OPEN_WORDS: dict[str, tuple[str, ...]] = {
    # Words that fit two quantities equally well; said to the person, never decided here.
    "speed": ("club_speed_mps", "ball_speed_mps"),
    "velocity": ("club_speed_mps", "ball_speed_mps"),
    "geschwindigkeit": ("club_speed_mps", "ball_speed_mps"),
    "vitesse": ("club_speed_mps", "ball_speed_mps"),
    "velocidad": ("club_speed_mps", "ball_speed_mps"),
    "velocita": ("club_speed_mps", "ball_speed_mps"),
    "hastighet": ("club_speed_mps", "ball_speed_mps"),
    "snelheid": ("club_speed_mps", "ball_speed_mps"),
    "velocidade": ("club_speed_mps", "ball_speed_mps"),
    "スピード": ("club_speed_mps", "ball_speed_mps"),
    "속도": ("club_speed_mps", "ball_speed_mps"),
    "distance": ("carry_m", "total_m"),
    "dist": ("carry_m", "total_m"),
    "length": ("carry_m", "total_m"),
    "weite": ("carry_m", "total_m"),
    "distanz": ("carry_m", "total_m"),
    "distancia": ("carry_m", "total_m"),
    "distanza": ("carry_m", "total_m"),
    "avstand": ("carry_m", "total_m"),
    "afstand": ("carry_m", "total_m"),
    "距離": ("carry_m", "total_m"),
    "거리": ("carry_m", "total_m"),
    "direction": ("launch_direction_deg", "club_path_deg"),
    "richtung": ("launch_direction_deg", "club_path_deg"),
    "angle": ("launch_angle_deg", "attack_angle_deg"),
    "winkel": ("launch_angle_deg", "attack_angle_deg"),
    "impact": ("strike_heel_toe_mm", "strike_high_low_mm"),
    "strike": ("strike_heel_toe_mm", "strike_high_low_mm"),
}

HARMLESS_WORDS = frozenset((
    "actual", "measured", "value", "number", "reading", "shot", "ball", "club", "the", "of", "at", "impact", "raw",
    "flat", "angle", "rate", "distance", "gemessen", "wert", "mesure", "valor", "valore", "varde", "waarde",
))
"""Words that may stand beside a phrase without changing which quantity is meant."""

FOOTER_WORDS = frozenset((
    "average", "averages", "avg", "ave", "mean", "median", "total", "totals", "sum", "std", "std dev", "stdev", "sd",
    "standard deviation", "min", "max", "minimum", "maximum", "count", "consistency", "summary", "all shots",
    "durchschnitt", "mittelwert", "mittel", "schnitt", "summe", "gesamt", "standardabweichung", "moyenne",
    "ecart type", "somme", "promedio", "media", "desviacion estandar", "suma", "deviazione standard", "somma",
    "medel", "medelvarde", "genomsnitt", "gemiddelde", "gemiddeld", "totaal", "soma", "desvio padrao",
    "gennemsnit", "gjennomsnitt", "keskiarvo", "平均", "平均値", "合計", "標準偏差", "평균", "합계", "표준편차",
    "平均值", "合计",
))
"""First words of rows that sum other rows up, and are no balls."""

NAMES_TOO = frozenset(("max", "min", "ave", "sum", "media", "sd"))
"""Those of the footer words that people are called."""


@lru_cache(maxsize=4096)
def plain_words(text: str) -> str:
    """Return a heading in the form of this registry: lower case, no accents, single spaces between words.

    >>> plain_words("  Écart-type "), plain_words("ClubSpeed"), plain_words("club_path")
    ('ecart type', 'club speed', 'club path')
    """
    text = unicodedata.normalize("NFKC", text)
    text = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", text)
    letters = unicodedata.normalize("NFKD", text.lower().replace("ß", "ss").replace("ø", "o").replace("æ", "ae"))
    # Only Latin accents: the marks of kana and hangul are part of the letter.
    bare = re.sub(r"([a-z])[\u0300-\u036f]+", r"\1", letters)
    return " ".join(re.findall(r"[^\W_]+", unicodedata.normalize("NFKC", bare)))
