package ferrule.drill.paper;

import ferrule.drawing.Studio;
import ferrule.drawing.View;
import ferrule.drill.Item;
import ferrule.drill.ItemWords;
import ferrule.drill.PartNames;
import ferrule.drill.Pictures;
import ferrule.drill.item.Option;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.TermRole;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;

/** Lays a version of a worksheet out: one section for each drawing, one for questions in words. */
final class Sections {

  /** What a drawing is made into: markup for a PDF, or for a page. */
  enum Medium {
    /** For {@link ferrule.web.Paper}. */
    PDF,
    /** For a browser. */
    PAGE
  }

  /**
   * What is asked about one drawing, or in words.
   *
   * @param style how its items stand on paper
   * @param first whether it is the first of its style, before which the instruction stands
   * @param caption what the drawing shows; may be empty
   * @param drawing its markup; empty if there is none
   * @param onWork whether any item is about work at the bench, which calls for the caution
   * @param lines its items
   */
  record Section(
      Style style, boolean first, String caption, String drawing, boolean onWork, List<Line> lines) {

    /** The style in lower case; for the template. */
    public String kind() {
      return style.name().toLowerCase(java.util.Locale.ROOT);
    }

    /** The lines in two columns, read down the first and then the second. */
    public List<List<Line>> pairs() {
      int rows = (lines.size() + 1) / 2;
      List<List<Line>> pairs = new ArrayList<>();
      for (int row = 0; row < rows; row++) {
        pairs.add(row + rows < lines.size() ? List.of(lines.get(row), lines.get(row + rows)) : List.of(lines.get(row)));
      }
      return pairs;
    }
  }

  /**
   * An item on the paper or in the key.
   *
   * @param number on the paper
   * @param term the part's preferred term, at the start of a line
   * @param stem what is asked, in words
   * @param given lines that belong to the stem
   * @param options what can be ticked, or the steps to number
   * @param ordering whether the options are steps to number
   * @param key the right answer: for a name its preferred term, for options the letter and the text, for steps their
   *     numbers in the order printed
   * @param also other trade terms, joined, or why it is right; may be empty
   * @param everyday what people say, joined; may be empty
   * @param where the assembly; empty for a question in words
   * @param drawn whether the drawing shows it, if there is one
   */
  record Line(
      int number,
      String term,
      String stem,
      List<String> given,
      List<Choice> options,
      boolean ordering,
      String key,
      String also,
      String everyday,
      String where,
      boolean drawn) {}

  /** An option with its letter; a step has none. */
  record Choice(String letter, String text) {}

  private final Studio studio;
  private final Pictures pictures;
  private final Glossary glossary;
  private final PartNames names;
  private final ItemWords words;

  Sections(Studio studio, Pictures pictures, Glossary glossary) {
    this.studio = studio;
    this.pictures = pictures;
    this.glossary = glossary;
    this.names = new PartNames(glossary);
    this.words = new ItemWords(names);
  }

  /** What an apprentice gets: numbers on the drawing only where they ask. */
  List<Section> worksheet(Version version, Medium medium) {
    return sections(version, medium, items -> Style.of(items.get(0)).isNumbered() ? numbers(items) : Map.of());
  }

  /** What the instructor gets: every number on the drawing. */
  List<Section> key(Version version, Medium medium) {
    return sections(version, medium, Sections::numbers);
  }

  private List<Section> sections(
      Version version, Medium medium, Function<List<Item>, Map<ConceptId, Integer>> numbers) {
    Map<Versions.Place, List<Item>> places = new LinkedHashMap<>();
    version.items().forEach(i -> places.computeIfAbsent(Versions.place(i), p -> new ArrayList<>()).add(i));
    List<Section> sections = new ArrayList<>();
    places.forEach(
        (place, items) -> {
          boolean first = sections.stream().noneMatch(s -> s.style() == place.style());
          sections.add(
              place.style().isDrawn()
                  ? drawn(first, place.style(), items, numbers.apply(items), medium)
                  : inWords(first, items));
        });
    return sections;
  }

  private Section inWords(boolean first, List<Item> items) {
    boolean onWork = items.stream().anyMatch(i -> !i.kind().asksAboutPart());
    return new Section(Style.WORDS, first, "", "", onWork, items.stream().map(i -> line(i, true)).toList());
  }

  private Section drawn(
      boolean first, Style style, List<Item> items, Map<ConceptId, Integer> numbers, Medium medium) {
    Item any = items.get(0);
    String caption = caption(items);
    String view = pictures.viewOf(any);
    double highest = highest(items.size());
    NumberedDrawing drawing = NumberedDrawing.of(studio, view, any.variants(), numbers, highest);
    NumberedDrawing all =
        numbers.isEmpty() ? NumberedDrawing.of(studio, view, any.variants(), numbers(items), highest) : drawing;
    String alt =
        (caption.isEmpty() ? "Drawing" : caption)
            + (numbers.isEmpty() ? ", without numbers" : ", with the numbers of the items");
    return new Section(
        style,
        first,
        caption,
        medium == Medium.PDF ? drawing.laidOut(alt) : drawing.svg(),
        false,
        items.stream().map(i -> line(i, all.labelled().contains(i.key()))).toList());
  }

  /** How high a drawing with so many numbers is printed, in mm: two small ones fit on a page, or one full one. */
  private static double highest(int numbers) {
    return numbers <= 4 ? 76 : numbers <= 8 ? 95 : 112;
  }

  private static Map<ConceptId, Integer> numbers(List<Item> items) {
    Map<ConceptId, Integer> numbers = new LinkedHashMap<>();
    items.forEach(i -> numbers.put(i.key(), i.position()));
    return numbers;
  }

  /** What all items of a drawing may be told about it: where a caption would name one of the parts, there is none. */
  private String caption(List<Item> items) {
    View view = studio.view(pictures.viewOf(items.get(0))).orElseThrow();
    List<String> captions =
        view.assembly().isEmpty()
            ? List.of(view.title())
            : items.stream().map(pictures::caption).distinct().toList();
    boolean tells =
        items.stream()
            .filter(i -> Style.of(i).isNumbered())
            .anyMatch(i -> captions.stream().anyMatch(c -> names.isToldBy(i.key(), c)));
    return captions.size() == 1 && !tells ? captions.get(0) : "";
  }

  private Line line(Item item, boolean drawn) {
    ConceptId part = item.key();
    boolean named = Style.of(item) == Style.NAME || Style.of(item) == Style.FIND;
    return new Line(
        item.position(),
        names.heading(part),
        stem(item),
        words.given(item),
        options(item),
        item.ordering().isPresent(),
        named ? names.heading(part) : key(item),
        named ? names.others(part) : because(item),
        named ? glossary.find(part).map(c -> String.join(", ", c.termsIn(TermRole.COLLOQUIAL))).orElse("") : "",
        Style.of(item).isDrawn() ? where(part) : "",
        drawn);
  }

  /** On paper no part is lit: it has the number of its item. */
  private String stem(Item item) {
    String stem = words.stem(item);
    return Style.of(item) == Style.TICK
        ? stem.replaceAll("(?i)the lit (\\w+)", "the $1 with number " + item.position()).replaceFirst("^the ", "The ")
        : stem.replaceFirst("^The lit part is the ", "This is about the ");
  }

  private static List<Choice> options(Item item) {
    List<Choice> options = new ArrayList<>();
    item.choice()
        .ifPresent(
            c -> {
              for (int i = 0; i < c.options().size(); i++) {
                options.add(new Choice(letter(i), PartNames.capital(c.options().get(i).text())));
              }
            });
    item.ordering().ifPresent(o -> o.steps().forEach(s -> options.add(new Choice("", s.name()))));
    return options;
  }

  static String letter(int option) {
    return String.valueOf((char) ('a' + option));
  }

  private String key(Item item) {
    if (item.choice().isPresent()) {
      List<Option> options = item.choice().get().options();
      Option key = item.choice().get().key();
      return letter(options.indexOf(key)) + "  " + PartNames.capital(key.text());
    }
    if (item.ordering().isPresent()) {
      List<String> mended = words.key(item);
      return item.ordering().get().steps().stream()
          .map(s -> String.valueOf(mended.indexOf(s.name()) + 1))
          .collect(Collectors.joining(", "));
    }
    return PartNames.capital(String.join("; ", words.key(item)));
  }

  private static String because(Item item) {
    return item.choice()
        .map(c -> c.key().because())
        .or(() -> item.ordering().map(o -> "One order that works, down the list; others may too."))
        .orElse("");
  }

  private String where(ConceptId part) {
    return glossary.find(part).stream()
        .flatMap(c -> glossary.wholesOf(c.id()).stream())
        .map(Concept::term)
        .limit(1)
        .collect(Collectors.joining());
  }
}
