// The diary by hand and by keyboard. Both only place a lesson on the grid; the form then asks the server, which says
// what speaks against it. Without this script the lesson's own page does the same.

const diary = document.querySelector("[data-diary]");
const form = document.querySelector("#move-form");
const said = document.querySelector("#diary-said");
const rows = Number(diary?.dataset.rows);
const firstHour = Number(diary?.dataset.firstHour);
const columns = () => [...diary.querySelectorAll(".diary-column")];
let moving = null;

function clock(row) {
  const minutes = firstHour * 60 + (row - 1) * 15;
  return `${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}`;
}

function begin(link) {
  const item = link.closest(".diary-item");
  moving = {
    link, item, from: item.parentElement, next: item.nextElementSibling, row: Number(item.dataset.row),
    column: item.closest(".diary-column"), first: Number(item.dataset.row), start: item.closest(".diary-column"),
  };
  item.classList.add("is-moving");
}

function place(column, row) {
  const lowest = rows - Number(moving.item.dataset.rows) + 1;
  moving.row = Math.max(1, Math.min(lowest, row));
  if (column !== moving.column) {
    moving.column = column;
    column.querySelector(".diary-list").prepend(moving.item);
  }
  moving.item.style.gridRowStart = moving.row;
  const words = `${moving.column.dataset.title}, ${clock(moving.row)}`;
  moving.link.querySelector(".nowrap").textContent = clock(moving.row);
  said.textContent = `${words}. Enter keeps it, Escape leaves it where it was.`;
}

function leave() {
  const { item, from, next, link, first } = moving;
  from.insertBefore(item, next);
  item.style.gridRowStart = "";
  item.classList.remove("is-moving");
  link.querySelector(".nowrap").textContent = clock(first);
  moving = null;
  said.textContent = "Left where it was.";
  link.focus();
}

function keep() {
  const { link, column, row, first, start } = moving;
  if (row === first && column === start) return leave();
  const { minutes, coach, venue, bay, move } = link.dataset;
  form.action = move;
  const values = {
    starts_at: `${column.dataset.day}T${clock(row)}`, minutes, venue: column.dataset.venue ?? venue,
    coach: column.dataset.coach || coach, bay: column.dataset.bay ?? bay,
  };
  for (const [name, value] of Object.entries(values)) form.elements[name].value = value;
  said.textContent = "Asking whether this hour is free.";
  form.submit();
}

const STEPS = { ArrowUp: [0, -1], ArrowDown: [0, 1], ArrowLeft: [-1, 0], ArrowRight: [1, 0] };

diary?.addEventListener("keydown", (event) => {
  const link = event.target.closest("a[data-move]");
  if (!link || event.ctrlKey || event.metaKey || event.altKey) return;
  if (!moving && event.key.toLowerCase() === "m") {
    begin(link);
    place(moving.column, moving.row);
    event.preventDefault();
  } else if (moving && event.key in STEPS) {
    const [across, down] = STEPS[event.key];
    const every = columns();
    const column = every[every.indexOf(moving.column) + across] ?? moving.column;
    place(column, moving.row + down);
    link.focus();
    event.preventDefault();
  } else if (moving && (event.key === "Enter" || event.key === "Escape")) {
    event.preventDefault();
    if (event.key === "Enter") keep();
    else leave();
  }
});

// By hand: a mouse or a pen. A finger scrolls, and has the lesson's own page.
let grabbed = null;

diary?.addEventListener("pointerdown", (event) => {
  const link = event.target.closest("a[data-move]");
  if (!link || event.pointerType === "touch" || event.button !== 0 || moving) return;
  grabbed = { link, x: event.clientX, y: event.clientY, id: event.pointerId };
});

window.addEventListener("pointermove", (event) => {
  if (!grabbed) return;
  if (!moving) {
    if (Math.hypot(event.clientX - grabbed.x, event.clientY - grabbed.y) < 8) return;
    begin(grabbed.link);
    grabbed.lift = rowAt(moving.column, grabbed.y) - moving.row;
  }
  const column = columns().find((one) => {
    const box = one.getBoundingClientRect();
    return event.clientX >= box.left && event.clientX < box.right;
  }) ?? moving.column;
  place(column, rowAt(column, event.clientY) - grabbed.lift);
});

window.addEventListener("pointerup", () => {
  const was = grabbed;
  grabbed = null;
  if (!was || !moving) return;
  // The click that follows would open the lesson's page.
  was.link.addEventListener("click", (event) => event.preventDefault(), { once: true });
  keep();
});

window.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && grabbed && moving) {
    grabbed = null;
    leave();
  }
});

function rowAt(column, y) {
  const list = column.querySelector(".diary-list");
  const box = list.getBoundingClientRect();
  const height = parseFloat(getComputedStyle(list).gridAutoRows);
  return Math.floor((y - box.top) / height) + 1;
}

// An empty place opens the form for that hour.
diary?.addEventListener("click", (event) => {
  if (!event.target.matches(".diary-list") || matchMedia("(max-width: 47.99rem)").matches) return;
  const column = event.target.closest(".diary-column");
  const row = Math.floor((rowAt(column, event.clientY) - 1) / 2) * 2 + 1;
  const asked = new URLSearchParams({ at: `${column.dataset.day}T${clock(row)}` });
  if (column.dataset.coach) asked.set("coach", column.dataset.coach);
  if (column.dataset.bay) asked.set("bay", column.dataset.bay);
  location.assign(`${diary.dataset.book}?${asked}`);
});
