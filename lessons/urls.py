"""Addresses of lessons, in groups; each group is one colleague's subject and stays together."""

from django.urls import path

from .views import (
    agree,
    angles,
    anonymous,
    api,
    balls,
    batteries,
    blocks,
    board,
    bookings,
    change,
    classes,
    clinics,
    course,
    diary,
    export,
    figures,
    findings,
    flight,
    greet,
    guide,
    history,
    hour,
    house,
    imports,
    inbox,
    incidents,
    lesson,
    library,
    live,
    media,
    method,
    monday,
    note,
    offline,
    own_entries,
    packages,
    photo,
    plans,
    practice,
    private_page,
    private_pictures,
    private_plan,
    progress,
    roster,
    rounds,
    setup,
    skills,
    sources,
    student,
    ten_setups,
    today,
)

today_pages = [
    path("", today.today, name="today"),
    path("today/book/", today.lesson_book, name="lesson_book"),
    path("look-up/", guide.guide, name="guide"),
]

lesson_pages = [
    path("lessons/<uuid:code>/", lesson.lesson, name="lesson"),
    path("lessons/<uuid:code>/start/", today.lesson_start, name="lesson_start"),
    path("lessons/<uuid:code>/greet/", greet.greet, name="greet"),
    path("lessons/<uuid:code>/pain/", greet.pain, name="pain"),
    path("lessons/<uuid:code>/header/", greet.header, name="lesson_header"),
    path("lessons/<uuid:code>/undo/", history.undo, name="lesson_undo"),
    path("lessons/<uuid:code>/history/", history.history, name="lesson_history"),
    path("lessons/<uuid:code>/history/<uuid:change>/undo/", history.change_undo, name="change_undo"),
    path("lessons/<uuid:code>/stops/<slug:slug>/", lesson.stop, name="stop"),
    path("lessons/<uuid:code>/stops/<slug:slug>/done/", lesson.stop_done, name="stop_done"),
    path("lessons/<uuid:code>/blocks/new/", blocks.block_new, name="block_new"),
    path("blocks/<uuid:code>/next/", blocks.block_next, name="block_next"),
    path("blocks/<uuid:code>/change/", blocks.block_change, name="block_change"),
    path("blocks/<uuid:code>/reading/", blocks.block_reading, name="block_reading"),
    path("blocks/<uuid:code>/fields/", balls.ball_fields, name="ball_fields"),
    path("blocks/<uuid:code>/balls/", balls.ball_add, name="ball_add"),
    path("balls/<uuid:key>/", balls.ball, name="ball"),
    path("balls/<uuid:key>/exclude/", balls.ball_exclude, name="ball_exclude"),
    path("balls/<uuid:key>/count/", balls.ball_count, name="ball_count"),
    path("balls/<uuid:key>/out/", balls.ball_out, name="ball_out"),
]

stop_pages = [
    path("lessons/<uuid:code>/look/", setup.look, name="look"),
    path("lessons/<uuid:code>/belief/", setup.belief, name="belief"),
    path("lessons/<uuid:code>/board/", board.board, name="board"),
    path("lessons/<uuid:code>/photo/", photo.photo, name="photo"),
    path("lessons/<uuid:code>/angles/", angles.angles, name="angles"),
    path("lessons/<uuid:code>/setups/", ten_setups.ten_setups, name="ten_setups"),
    path("lessons/<uuid:code>/setups/begin/", ten_setups.ten_setups_begin, name="ten_setups_begin"),
    path("lessons/<uuid:code>/setups/board/", ten_setups.ten_setups_board, name="ten_setups_board"),
    path("lessons/<uuid:code>/reason/", findings.reason, name="reason"),
    path("lessons/<uuid:code>/check/", findings.check, name="check"),
    path("lessons/<uuid:code>/finding/", findings.decide, name="finding_decide"),
    path("lessons/<uuid:code>/change/", change.change, name="change"),
    path("lessons/<uuid:code>/drills/", agree.drills, name="drills"),
    path("lessons/<uuid:code>/drills/give/", agree.drill_give, name="drill_give"),
    path("lessons/<uuid:code>/drills/<uuid:assignment>/dose/", agree.drill_dose, name="drill_dose"),
    path("lessons/<uuid:code>/drills/<uuid:assignment>/back/", agree.drill_back, name="drill_back"),
    path("lessons/<uuid:code>/notes/", agree.notes, name="notes"),
    path("lessons/<uuid:code>/finish/", agree.finish, name="finish"),
    path("lessons/<uuid:code>/note/", note.note, name="note"),
    path("lessons/<uuid:code>/note/send/", note.send, name="sheet_send"),
    path("lessons/<uuid:code>/note/copied/", note.copied, name="sheet_copied"),
]

picture_pages = [
    path("lessons/<uuid:code>/pictures/", media.pictures, name="pictures"),
    path("pictures/<uuid:code>/", media.picture, name="picture"),
    path("pictures/<uuid:code>/out/", media.picture_remove, name="picture_out"),
    path("me/pictures/<uuid:code>/", media.my_picture, name="me_picture"),
]

library_pages = [
    path("library/", library.index, name="library"),
    path("library/patterns/<slug:slug>/", library.pattern, name="library_pattern"),
    path("library/cards/<slug:slug>/", library.drill, name="library_drill"),
    path("library/windows/<slug:club>/", library.windows, name="library_windows"),
    path("library/patterns/<slug:slug>/own/", library.threshold_own, name="threshold_own"),
    path("library/windows/<slug:club>/own/", library.window_own, name="window_own"),
    path("library/own/drill/", own_entries.drill, name="own_drill"),
    path("library/patterns/<slug:slug>/copy/", own_entries.pattern, name="own_pattern"),
    path("library/own/<slug:own>/out/", own_entries.retire, name="own_retire"),
    path("library/settings/", library.settings, name="library_settings"),
    path("library/settings/own/", library.setting_own, name="setting_own"),
    path("library/overrides/<uuid:code>/undo/", library.override_back, name="override_back"),
]

import_pages = [
    path("lessons/<uuid:code>/import/", imports.choose, name="import_new"),
    path("imports/<uuid:code>/", imports.look, name="import_look"),
    path("imports/<uuid:code>/store/", imports.store, name="import_store"),
    path("imports/<uuid:code>/correct/", imports.correct, name="import_correct"),
]

export_pages = [
    path("students/<uuid:code>/export/<slug:table>.csv", export.student_table, name="student_table"),
    path("students/<uuid:code>/export/record.json", export.student_archive, name="student_archive"),
    path("export/academy.json", export.academy_archive, name="academy_archive"),
    path("export/without-people/", anonymous.page, name="anonymous"),
    path("export/without-people/numbers.json", anonymous.download, {"form": "json"}, name="anonymous_json"),
    path("export/without-people/numbers.txt", anonymous.download, {"form": "txt"}, name="anonymous_txt"),
]

live_pages = [
    path("api/v1/shots", api.shots, name="api_shots"),
    path("api/v1/openapi.json", api.openapi, name="api_openapi"),
    path("lessons/<uuid:code>/live/", live.live, name="live"),
    path("inbox/", inbox.inbox, name="inbox"),
    path("sources/", sources.sources, name="sources"),
    path("sources/<uuid:code>/token/", sources.token_issue, name="token_issue"),
    path("sources/<uuid:code>/token/end/", sources.token_revoke, name="token_revoke"),
]

private_pages = [
    path("me/", private_page.home, name="me"),
    path("me/drills/<uuid:code>/", practice.mode, name="me_drill"),
    path("me/practice/", practice.tick, name="me_tick"),
    path("me/message/", practice.send, name="me_message"),
    path("me/pain/", practice.pain, name="me_pain"),
    path("me/pain/today/", practice.pain_day, name="me_pain_day"),
    path("me/plan/", private_plan.plan, name="me_plan"),
    path("me/plan/days/", private_plan.days, name="me_plan_days"),
    path("me/plan/practice.ics", private_plan.calendar, name="me_plan_file"),
    path("me/pictures/", private_pictures.pictures, name="me_pictures"),
    path("me/worker.js", offline.worker, name="me_worker"),
    path("me/kept/", private_page.about, name="me_kept"),
    path("me/kept/my-golf-record.json", private_page.download, {"form": "json"}, name="me_json"),
    path("me/kept/my-golf-record.txt", private_page.download, {"form": "txt"}, name="me_txt"),
    path("me/kept/delete/", private_page.ask_deletion, name="me_delete"),
]

student_pages = [
    path("students/<uuid:code>/", student.student, name="student"),
    path("students/<uuid:code>/messages/<uuid:message_code>/answer/", student.answer, name="message_answer"),
]

method_pages = [
    path("method/", method.method, name="method"),
]

progress_pages = [
    path("students/<uuid:code>/progress/", progress.progress, name="progress"),
    path("blocks/<uuid:code>/flight/", flight.block_flight, name="block_flight"),
]

diary_pages = [
    path("diary/", diary.page, name="diary"),
    path("diary/book/", diary.book, name="diary_book"),
    path("diary/weather/", diary.weather, name="diary_weather"),
    path("diary/hours/", diary.hours, name="diary_hours"),
    path("diary/feed/", diary.feed, name="diary_feed"),
    path("diary/drafts/", bookings.drafts, name="diary_drafts"),
    path("diary/rules/", house.page, name="house"),
    path("calendar/<str:token>/diary.ics", diary.calendar, name="calendar"),
    path("diary/lessons/<uuid:code>/", bookings.lesson, name="booking"),
    path("diary/lessons/<uuid:code>/move/", bookings.move, name="booking_move"),
    path("diary/lessons/<uuid:code>/cancel/", bookings.cancel, name="booking_cancel"),
    path("diary/lessons/<uuid:code>/no-show/", bookings.no_show, name="booking_no_show"),
    path("diary/lessons/<uuid:code>/undo/", bookings.undo, name="booking_undo"),
    path("diary/lessons/<uuid:code>/lesson.ics", bookings.booking_file, name="booking_file"),
    path("me/lessons/<uuid:code>/lesson.ics", bookings.my_booking_file, name="me_booking_file"),
    path("classes/new/", classes.new, name="class_new"),
    path("classes/<uuid:code>/", classes.page, name="class_page"),
    path("classes/<uuid:code>/join/", classes.join, name="class_join"),
    path("classes/<uuid:code>/register/", classes.register, name="class_register"),
    path("classes/<uuid:code>/cancel/", classes.cancel, name="class_cancel"),
    path("classes/<uuid:code>/undo/", classes.undo, name="class_undo"),
    path("classes/<uuid:code>/clinic/", clinics.clinic, name="clinic"),
    path("classes/<uuid:code>/stations/", clinics.stations, name="class_stations"),
    path("classes/<uuid:code>/observations/", clinics.observe, name="class_observe"),
    path("classes/<uuid:code>/template/", clinics.template_keep, name="template_keep"),
    path("class-templates/<uuid:code>/out/", clinics.template_out, name="template_out"),
    path("waiting/", classes.waiting, name="waiting"),
    path("waiting/<uuid:code>/end/", classes.waiting_end, name="waiting_end"),
]

monday_pages = [
    path("monday/", monday.page, name="monday"),
    path("monday/mark/", monday.mark, name="monday_mark"),
    path("monday/texts/", monday.own_texts, name="monday_texts"),
    path("monday/<uuid:code>/back/", monday.back, name="monday_back"),
]

package_pages = [
    path("packages/", packages.packages, name="packages"),
    path("packages/ledger.csv", packages.ledger, name="package_ledger"),
    path("packages/expired/", packages.write_off, name="package_write_off"),
    path("packages/<uuid:code>/<slug:what>/", packages.step, name="package_step"),
    path("packages/lines/<uuid:code>/back/", packages.line_back, name="package_line_back"),
    path("students/<uuid:code>/packages/", packages.of_student, name="student_packages"),
]

roster_pages = [
    path("roster/", roster.roster, name="roster"),
    path("figures/", figures.figures, name="figures"),
    path("figures/<slug:table>.csv", figures.table, name="figures_table"),
    path("incidents/", incidents.incidents, name="incidents"),
    path("incidents/<uuid:code>/close/", incidents.close, name="incident_close"),
    path("incidents/papers/", incidents.check, name="coach_check"),
]

plan_pages = [
    path("students/<uuid:code>/plans/", plans.plans, name="plans"),
    path("students/<uuid:code>/plans/new/<slug:kind>/", plans.plan_new, name="plan_new"),
    path("students/<uuid:code>/events/new/", plans.event_add, name="event_add"),
    path("students/<uuid:code>/events/<uuid:event_code>/out/", plans.event_out, name="event_out"),
    path("plans/<uuid:code>/", plans.plan, name="plan"),
    path("plans/<uuid:code>/bend/", plans.plan_bend, name="plan_bend"),
    path("plans/<uuid:code>/back/", plans.plan_back, name="plan_back"),
    path("plans/<uuid:code>/days/", plans.plan_days, name="plan_days"),
    path("plans/<uuid:code>/end/", plans.plan_end, name="plan_end"),
    path("lessons/<uuid:code>/plan/", hour.lesson_hour, name="lesson_hour"),
    path("lessons/<uuid:code>/plan/line/", hour.strip, name="hour_strip"),
    path("lessons/<uuid:code>/plan/done/", hour.part_done, name="part_done"),
]

skill_pages = [
    path("students/<uuid:code>/short-game/", skills.short_game, name="short_game"),
    path("students/<uuid:code>/short-game/new/", skills.skill_begin, name="skill_begin"),
    path("tests/<uuid:code>/", skills.skill_test, name="skill_test"),
    path("tests/<uuid:code>/ball/", skills.skill_ball, name="skill_ball"),
    path("tests/<uuid:code>/undo/", skills.skill_undo, name="skill_undo"),
    path("tests/<uuid:code>/out/", skills.skill_out, name="skill_out"),
]

course_pages = [
    path("lessons/<uuid:code>/course/", course.course, name="course"),
    path("lessons/<uuid:code>/course/shot/", course.course_shot, name="course_shot"),
    path("lessons/<uuid:code>/course/undo/", course.course_undo, name="course_undo"),
]

battery_pages = [
    path("students/<uuid:code>/batteries/", batteries.batteries, name="batteries"),
    path("students/<uuid:code>/batteries/new/", batteries.battery_begin, name="battery_begin"),
    path("batteries/<uuid:code>/", batteries.battery, name="battery"),
    path("batteries/<uuid:code>/parts/<slug:part>/", batteries.battery_part, name="battery_part"),
    path("batteries/<uuid:code>/measures/<slug:measure>/", batteries.battery_measure, name="battery_measure"),
    path("batteries/<uuid:code>/finish/", batteries.battery_finish, name="battery_finish"),
    path("batteries/<uuid:code>/out/", batteries.battery_out, name="battery_out"),
    path("batteries/<uuid:code>/report/", batteries.battery_report, name="battery_report"),
]

score_pages = [
    path("students/<uuid:code>/rounds/", rounds.rounds, name="rounds"),
    path("students/<uuid:code>/rounds/new/", rounds.round_add, name="round_add"),
    path("students/<uuid:code>/rounds/index/", rounds.official_index, name="official_index"),
    path("students/<uuid:code>/rounds/<uuid:round_code>/out/", rounds.round_out, name="round_out"),
]

app_name = "lessons"
urlpatterns = [
    *today_pages,
    *lesson_pages,
    *stop_pages,
    *picture_pages,
    *library_pages,
    *import_pages,
    *live_pages,
    *export_pages,
    *progress_pages,
    *method_pages,
    *private_pages,
    *student_pages,
    *diary_pages,
    *monday_pages,
    *package_pages,
    *roster_pages,
    *plan_pages,
    *skill_pages,
    *battery_pages,
    *course_pages,
    *score_pages,
]
