mod support;
#[test]
fn write_all() {
    let dir = std::path::PathBuf::from(std::env::var("LOOK").unwrap());
    for (name, score) in [("evening", support::evening()), ("ferry", support::ferry())] {
        let sheet = handspan_sheet::engrave(&score, &handspan_sheet::SheetOptions::default());
        std::fs::write(dir.join(format!("{name}.pdf")), handspan_sheet::write::pdf::pdf(&sheet).unwrap())
            .unwrap();
        std::fs::write(dir.join(format!("{name}.svg")), handspan_sheet::write::svg::svg(&sheet.pages[0]))
            .unwrap();
    }
}
