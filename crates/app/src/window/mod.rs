//! The window: lays out the panels, turns keys into commands, runs commands after drawing, asks for paths.

mod answers;
mod dialog;
mod taste;

use std::path::PathBuf;
use std::sync::Arc;

use eframe::egui::{
    self, Align, CentralPanel, Color32, Context, Frame, Key, Layout, Margin, Panel, Popup, ScrollArea, Sense,
    Ui, UiBuilder, Vec2, ViewportBuilder, ViewportCommand, vec2,
};

use crate::command::{Command, Entry, FileWish, OWN, ViewWish, entries, is_heard_in, own_digits};
use crate::folders::Folders;
use crate::job::Lane;
use crate::panels::cached::Cached;
use crate::panels::grip::GripModel;
use crate::panels::guitar::GuitarSetup;
use crate::panels::neck::{Neck, NeckModel};
use crate::panels::ribbon::{HEIGHT as RIBBON, Ribbon};
use crate::panels::route::RoutePlace;
use crate::panels::search::Search;
use crate::panels::sheet::SheetPlace;
use crate::panels::status::Status;
use crate::panels::tune::TunePanel;
use crate::panels::voicings::Voicings;
use crate::panels::{Look, Queue, grip, hands, keys, neck, preferences, rail};
use crate::preferences::Preferences;
use crate::session::{Notice, Place, Session};
use crate::theme::{STEP, Theme};
use dialog::Dialogs;
use taste::Taste;

/// Width of the explanation of the grip.
const GRIP: f32 = 320.0;

/// Room around the neck.
const NECK_ROOM: f32 = 3.0 * STEP;

/// The least height that the middle needs, and the least width: where there is less, it scrolls.
const PLACE: f32 = 300.0;
const fn least_width(place: Place) -> f32 {
    match place {
        Place::Sheet => 540.0,
        Place::Tune | Place::Voicings | Place::Route => 850.0,
    }
}

/// Opens the window on a file, or else on the file opened last or a demo tune, and stays until it is closed.
///
/// # Errors
/// A sentence for the terminal, where no window can be had.
pub fn open(file: Option<PathBuf>) -> Result<(), String> {
    let folders = Folders::of_user();
    let (width, height) = Preferences::read(&folders).0.window;
    let options = eframe::NativeOptions {
        viewport: ViewportBuilder::default()
            .with_app_id("handspan")
            .with_inner_size([width, height])
            .with_min_inner_size([960.0, 640.0]),
        ..eframe::NativeOptions::default()
    };
    let app: eframe::AppCreator<'_> = Box::new(|cc| Ok(Box::new(App::new(&cc.egui_ctx, folders, file))));
    eframe::run_native("Handspan", options, app).map_err(|fault| no_window(&fault))
}

/// Why there is no window, and what does the same job without one.
fn no_window(fault: &eframe::Error) -> String {
    let why = match fault {
        eframe::Error::Winit(_) | eframe::Error::WinitEventLoop(_) => "there is no display",
        _ => "the display's graphics can't be used",
    };
    format!(
        "Handspan can't open its window here: {why}. The same job is done without one by: handspan arrange FILE --out SHEET.pdf"
    )
}

/// The window's state.
#[derive(Debug)]
pub struct App {
    session: Session,
    theme: Theme,
    queue: Queue,
    dialogs: Dialogs,
    tune: TunePanel,
    voicings: Voicings,
    route: RoutePlace,
    neck: Neck,
    neck_model: Cached<u64, NeckModel>,
    grip_model: Cached<u64, Option<GripModel>>,
    sheet: SheetPlace,
    ribbon: Ribbon,
    status: Status,
    over: Option<Over>,
    search: Search,
    guitar: GuitarSetup,
    taste: Taste,
    title: String,
}

/// What floats over the window.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Over {
    Keys,
    Search,
    Preferences,
    Guitar,
}

impl App {
    /// A window whose jobs run on threads, on a file where one is given.
    pub fn new(ctx: &Context, folders: Folders, file: Option<PathBuf>) -> Self {
        let wake = ctx.clone();
        Self::within(ctx, Lane::Threads(Arc::new(move || wake.request_repaint())), folders, file)
    }

    /// A window on the demo tune that keeps nothing and whose jobs run on the lane given.
    pub fn on(ctx: &Context, lane: Lane) -> Self {
        Self::within(ctx, lane, Folders::none(), None)
    }

    /// A window on a file, or else on the file opened last or the demo tune; what it keeps is kept in the folders.
    pub fn within(ctx: &Context, lane: Lane, folders: Folders, file: Option<PathBuf>) -> Self {
        let theme = Theme::built_in();
        theme.install(ctx);
        let mut session = Session::within(crate::demo::work(), lane, &folders);
        let dialogs = Dialogs::new(matches!(session.lane(), Lane::Threads(_)));
        let (taste, sentence) = Taste::read(folders);
        taste.show(ctx);
        if let Some(sentence) = sentence {
            session.tell(Notice::failed(sentence));
        }
        taste.show_neck(&mut session);
        if taste.preferences.knows_first_steps {
            session.run(Command::View(ViewWish::DismissFirstSteps));
        }
        let last = taste.preferences.last_file.clone().filter(|path| path.exists());
        if let Some(path) = file.or(last) {
            session.run(Command::File(FileWish::OpenAt(path)));
        }
        Self {
            session,
            theme,
            queue: Queue::new(),
            dialogs,
            tune: TunePanel::default(),
            voicings: Voicings::default(),
            route: RoutePlace::default(),
            neck: Neck::default(),
            neck_model: Cached::default(),
            grip_model: Cached::default(),
            sheet: SheetPlace::default(),
            ribbon: Ribbon::default(),
            status: Status::default(),
            over: None,
            search: Search::default(),
            guitar: GuitarSetup::default(),
            taste,
            title: String::new(),
        }
    }

    /// The state behind the window.
    pub const fn session(&self) -> &Session {
        &self.session
    }

    /// Carries out a wish as if it had come from a key or a button.
    pub fn wish(&mut self, command: Command) {
        self.queue.push(command);
    }

    /// Takes in what jobs have found; gives whether anything changed.
    pub fn work(&mut self) -> bool {
        self.session.poll()
    }

    /// One frame: hears keys, draws, runs what was wished for.
    pub fn frame(&mut self, ui: &mut Ui) {
        let ctx = ui.ctx().clone();
        self.listen(&ctx);
        self.draw(ui);
        self.run(&ctx);
    }

    fn draw(&mut self, ui: &mut Ui) {
        let look = Look::of(&self.theme, &self.taste.preferences, ui.ctx());
        let palette = look.palette;
        let railing = Frame::NONE.fill(palette.panel).inner_margin(Margin::symmetric(2 * STEP as i8, 0));
        Panel::left("rail").exact_size(rail::WIDTH).resizable(false).frame(railing).show(ui, |ui| {
            rail::show(ui, &look, &self.session, &mut self.queue);
        });
        let width = ui.available_width() - 8.0 * STEP;
        let hands = hands::height(ui, &look, &self.session, width);
        Panel::top("hands").exact_size(hands).frame(bar(palette.panel)).show(ui, |ui| {
            hands::show(ui, &look, &self.session, &mut self.queue);
        });
        ui.painter().rect_filled(ui.available_rect_before_wrap(), 0.0, palette.ground);
        // Large text in a small window: what lies below the bar scrolls, and everything stays in reach.
        let needed = PLACE + self.status.height() + RIBBON + self.neck_height(ui);
        within(ui, ScrollArea::vertical(), vec2(0.0, needed), |ui| self.draw_below(ui, &look));
        self.draw_over(ui.ctx(), &look);
    }

    /// Everything below the hands bar, from the ribbon at the bottom up.
    fn draw_below(&mut self, ui: &mut Ui, look: &Look) {
        let palette = look.palette;
        let neck = bar(palette.ground).inner_margin(Margin::symmetric(0, STEP as i8));
        let ribbon = bar(palette.ground).inner_margin(Margin::symmetric(4 * STEP as i8, STEP as i8));
        Panel::bottom("ribbon").exact_size(RIBBON).frame(ribbon).show(ui, |ui| {
            self.ribbon.show(ui, look, &self.session, &mut self.queue);
        });
        if self.session.place().shows_the_neck() {
            self.draw_neck(ui, look, neck);
        }
        Panel::bottom("status").exact_size(self.status.height()).frame(bar(palette.panel)).show(ui, |ui| {
            self.status.show(ui, look, &self.session, &mut self.queue);
        });
        let roomy = bar(palette.ground).inner_margin(Margin::same(4 * STEP as i8));
        let needed = vec2(least_width(self.session.place()), 0.0);
        within(ui, ScrollArea::horizontal(), needed, |ui| self.draw_place(ui, look, roomy));
    }

    /// What floats over the window, the most pressing last and so on top.
    fn draw_over(&mut self, ctx: &Context, look: &Look) {
        match self.over {
            None => {}
            Some(Over::Keys) => keys::show(ctx, look, &mut self.queue),
            Some(Over::Search) => self.search.show(ctx, look, &self.session, &mut self.queue),
            Some(Over::Preferences) => {
                preferences::show(ctx, look, &self.taste.preferences, &mut self.queue);
            }
            Some(Over::Guitar) => self.guitar.show(ctx, look, &self.session, &mut self.queue),
        }
        answers::show(ctx, look, &self.session, &mut self.queue);
        self.dialogs.show(ctx, look, &self.session, &mut self.queue);
    }

    /// The middle: the place's own work, and beside it the grip where it has one.
    fn draw_place(&mut self, ui: &mut Ui, look: &Look, frame: Frame) {
        let place = self.session.place();
        if place.explains_the_grip() {
            Panel::right("grip").exact_size(GRIP).resizable(false).frame(frame).show(ui, |ui| {
                ScrollArea::vertical().show(ui, |ui| {
                    let session = &self.session;
                    let model = self.grip_model.of(session.state(), || GripModel::of(session));
                    grip::show(ui, look, session, model.as_ref(), &mut self.queue);
                });
            });
        }
        CentralPanel::default().frame(frame).show(ui, |ui| {
            if self.session.first_steps() && place == Place::Voicings {
                first_steps(ui, look, &mut self.queue);
            }
            match place {
                Place::Tune => self.tune.show(ui, look, &self.session, &mut self.queue),
                Place::Voicings => self.voicings.show(ui, look, &self.session, &mut self.queue),
                Place::Route => self.route.show(ui, look, &self.session, &mut self.queue),
                Place::Sheet => self.sheet.show(ui, look, &self.session, &mut self.queue),
            }
        });
    }

    /// How high the neck is, where it is shown.
    fn neck_height(&mut self, ui: &Ui) -> f32 {
        let session = &self.session;
        if !session.place().shows_the_neck() {
            return 0.0;
        }
        let model = self.neck_model.of(session.state(), || NeckModel::of(session));
        neck::height(model, ui.available_width()) + NECK_ROOM
    }

    fn draw_neck(&mut self, ui: &mut Ui, look: &Look, frame: Frame) {
        let session = &self.session;
        let model = self.neck_model.of(session.state(), || NeckModel::of(session));
        let height = neck::height(model, ui.available_width()) + NECK_ROOM;
        let neck = Panel::bottom("neck").exact_size(height).show_separator_line(false);
        neck.frame(frame).show(ui, |ui| self.neck.show(ui, look, model, &mut self.queue));
    }

    /// Keys become commands, unless something is being typed.
    fn listen(&mut self, ctx: &Context) {
        let forming = self.session.writing().is_forming();
        let asked = self.dialogs.are_open() || forming || answers::are_wanted(&self.session);
        let answering = matches!(self.over, Some(Over::Search | Over::Guitar | Over::Preferences));
        if ctx.text_edit_focused() || asked || answering {
            return;
        }
        let building = self.session.own().is_some() && self.over.is_none() && !Popup::is_any_open(ctx);
        // While a grip of one's own is built, its keys go before the others.
        let own = OWN.1.iter().filter(|_| building);
        let mut entries: Vec<_> = own.chain(entries().filter(|entry| self.is_heard(ctx, entry))).collect();
        // Of two keys that differ in modifiers, the one with more of them goes first.
        entries.sort_by_key(|e| std::cmp::Reverse(e.keys.iter().map(|(m, _)| weight(*m)).max()));
        for entry in entries {
            let pressed = ctx.input_mut(|input| entry.keys.iter().any(|(m, k)| input.consume_key(*m, *k)));
            if pressed && self.session.can(&entry.command) {
                self.queue.push(entry.command.clone());
            }
        }
        if building {
            self.listen_to_digits(ctx);
        }
        for file in ctx.input(|input| input.raw.dropped_files.clone()) {
            self.queue.push(Command::File(FileWish::OpenAt(file.path().to_path_buf())));
        }
    }

    /// While a grip of one's own is built, digits go to its strings.
    fn listen_to_digits(&mut self, ctx: &Context) {
        for (key, command) in own_digits() {
            if ctx.input_mut(|input| input.consume_key(egui::Modifiers::NONE, key)) {
                self.queue.push(command);
            }
        }
    }

    /// Whether a command's keys belong to it now. The list of keys and open menus have keys of their own, and so has a
    /// control that was reached by the tabulator.
    fn is_heard(&self, ctx: &Context, entry: &Entry) -> bool {
        if self.over == Some(Over::Keys) {
            return entry.command == Command::View(ViewWish::Keys);
        }
        let moves = |key: &Key| {
            matches!(key, Key::Enter | Key::ArrowDown | Key::ArrowUp | Key::ArrowLeft | Key::ArrowRight)
        };
        let on_a_control = ctx.memory(|memory| memory.focused().is_some());
        let here = is_heard_in(&entry.command, self.session.place());
        here && !Popup::is_any_open(ctx) && (!on_a_control || !entry.keys.iter().any(|(_, key)| moves(key)))
    }

    fn toggle(&mut self, over: Over) {
        self.over = (self.over != Some(over)).then_some(over);
    }

    fn run(&mut self, ctx: &Context) {
        for command in std::mem::take(&mut self.queue) {
            match command {
                Command::View(ViewWish::Keys) => self.toggle(Over::Keys),
                Command::View(ViewWish::Search) => self.toggle(Over::Search),
                Command::View(ViewWish::Preferences) => self.toggle(Over::Preferences),
                Command::View(ViewWish::Guitar) => self.toggle(Over::Guitar),
                Command::Prefer(preference) => self.taste.prefer(preference, ctx),
                Command::Sheet(wish) => {
                    let wish = self.sheet.zoomed(&wish).unwrap_or(wish);
                    self.session.run(Command::Sheet(wish));
                }
                other => self.dialogs.or_run(other, &mut self.session, &mut self.queue),
            }
            ctx.request_repaint();
        }
        if self.dialogs.may_close(ctx, &self.session) {
            ctx.send_viewport_cmd(ViewportCommand::Close);
        }
        self.taste.note(&self.session);
        if let Some(notice) = self.taste.keep() {
            self.session.tell(notice);
        }
        let title = self.session.title();
        if title != self.title {
            ctx.send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.title = title;
        }
    }
}

impl eframe::App for App {
    fn logic(&mut self, ctx: &Context, _frame: &mut eframe::Frame) {
        if self.work() {
            ctx.request_repaint();
        }
    }

    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.frame(ui);
        let ctx = ui.ctx();
        if let Some(size) = ctx.input(|input| input.viewport().inner_rect).map(|rect| rect.size()) {
            // In points of the system, whatever the size of text.
            let size = size * ctx.zoom_factor();
            self.taste.preferences.window = (size.x, size.y);
        }
    }

    fn on_exit(&mut self, _graphics: Option<&eframe::glow::Context>) {
        self.session.close();
        self.taste.keep_all();
    }
}

/// A bar over a whole width.
fn bar(fill: Color32) -> Frame {
    Frame::NONE.fill(fill).inner_margin(Margin::symmetric(4 * STEP as i8, 0))
}

/// Draws something in all the room there is, or, where it needs more, in as much as it needs, which scrolls.
fn within(ui: &mut Ui, area: ScrollArea, needed: Vec2, draw: impl FnOnce(&mut Ui)) {
    let room = ui.available_size();
    if room.x >= needed.x && room.y >= needed.y {
        draw(ui);
        return;
    }
    area.auto_shrink(false).show(ui, |ui| {
        let (all, _) = ui.allocate_exact_size(ui.available_size().max(needed), Sense::hover());
        draw(&mut ui.new_child(UiBuilder::new().max_rect(all)));
    });
}

fn weight(modifiers: egui::Modifiers) -> u8 {
    u8::from(modifiers.shift) + u8::from(modifiers.command) + u8::from(modifiers.alt)
}

/// What to try first, in three lines.
const FIRST_STEPS: [&str; 3] = [
    "→ and ← step through the tune; the neck shows the grip and where each finger came from.",
    "↓ and ↑ show other grips for the same melody note; Enter takes one, and the rest is arranged around it.",
    "Drag along the tune below to select a passage. Ctrl+O opens your own lead sheet, Ctrl+E writes the sheet.",
];

fn first_steps(ui: &mut Ui, look: &Look, queue: &mut Queue) {
    let frame = Frame::NONE
        .fill(look.palette.panel)
        .corner_radius(look.sizes.radius)
        .inner_margin(Margin::symmetric(3 * STEP as i8, 2 * STEP as i8));
    frame.show(ui, |ui| {
        ui.horizontal(|ui| {
            ui.vertical(|ui| {
                for line in FIRST_STEPS {
                    ui.label(line);
                }
            });
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                if ui.button("Got it").clicked() {
                    queue.push(Command::View(ViewWish::DismissFirstSteps));
                }
            });
        });
    });
    ui.add_space(2.0 * STEP);
}
