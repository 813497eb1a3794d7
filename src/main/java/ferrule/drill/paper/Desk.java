package ferrule.drill.paper;

import ferrule.drawing.Studio;
import ferrule.drill.Item;
import ferrule.drill.ItemKind;
import ferrule.drill.ItemWords;
import ferrule.drill.PartNames;
import ferrule.drill.Pictures;
import ferrule.glossary.Glossary;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** Makes worksheets and what is printed of them. */
final class Desk {

  private final Studio studio;
  private final Glossary glossary;
  private final PartNames names;
  private final ItemWords words;
  private final Sections sections;

  Desk(Studio studio, Pictures pictures, Glossary glossary) {
    this.studio = studio;
    this.glossary = glossary;
    this.names = new PartNames(glossary);
    this.words = new ItemWords(names);
    this.sections = new Sections(studio, pictures, glossary);
  }

  /**
   * The versions of a worksheet with these items; the same items, seed and curriculum give the same.
   *
   * @param items at least one
   */
  List<Version> versions(List<Item> items, int count, long seed) {
    List<Item> printed = new FewDrawings(studio, glossary).of(keepingNames(items));
    return new Versions((view, variants, parts) -> NumberedDrawing.round(studio, view, variants, parts))
        .of(printed, count, seed);
  }

  /**
   * The same items, but none that asks for a name that stands elsewhere on the paper, as an option or as a part to find:
   * such a part is to be found and not to be named.
   */
  private List<Item> keepingNames(List<Item> items) {
    List<Item> kept = new ArrayList<>(items);
    boolean changed = true;
    while (changed) {
      changed = false;
      for (int i = 0; i < kept.size(); i++) {
        Item item = kept.get(i);
        if (item.kind() == ItemKind.NAME && isTold(item, kept)) {
          kept.set(
              i, new Item(item.position(), ItemKind.FIND, item.key(), item.view(), item.variants(), item.pictureSeed()));
          changed = true;
        }
      }
    }
    return kept;
  }

  private boolean isTold(Item name, List<Item> items) {
    return items.stream()
        .filter(i -> i.kind() != ItemKind.NAME)
        .flatMap(i -> printed(i).stream())
        .anyMatch(text -> names.isToldBy(name.key(), text));
  }

  /** All that a worksheet says of an item in words. */
  private List<String> printed(Item item) {
    List<String> texts = new ArrayList<>(List.of(words.stem(item)));
    texts.addAll(words.given(item));
    texts.addAll(words.options(item));
    return texts;
  }

  /** What the heading of a paper says. */
  record Heading(String school, String title, String letter, int length, String code, boolean colloquial) {

    static Heading of(Worksheet sheet, Version version) {
      return new Heading(
          sheet.school(), sheet.title(), version.letter(), sheet.length(), sheet.code(version),
          sheet.plan().colloquial());
    }
  }

  /** What the template of a worksheet reads. */
  Map<String, Object> worksheet(Worksheet sheet, Version version, Sections.Medium medium) {
    return model(sheet, version, sections.worksheet(version, medium));
  }

  /** What the template of a key reads. */
  Map<String, Object> key(Worksheet sheet, Version version, Sections.Medium medium) {
    return model(sheet, version, sections.key(version, medium));
  }

  private static Map<String, Object> model(Worksheet sheet, Version version, List<Sections.Section> sections) {
    Map<String, Object> model = new LinkedHashMap<>();
    model.put("sheet", Heading.of(sheet, version));
    model.put("sections", new ArrayList<>(sections));
    return model;
  }
}
