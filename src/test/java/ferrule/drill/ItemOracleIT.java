package ferrule.drill;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.drawing.Picture;
import ferrule.drill.item.Interaction;
import ferrule.drill.item.Option;
import ferrule.drill.item.Topic;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Term;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.procedure.StepId;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import ferrule.web.Browser;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Ten thousand items of every kind against an oracle that did not write them, and what their pages and pictures tell. */
class ItemOracleIT {

  private static final int ITEMS = 10_000;
  private static final int PAGES = 25;
  private static final ItemOracle ORACLE = new ItemOracle(Trumpet.GLOSSARY, Trumpet.PROCEDURES);
  private static final Marker MARKER = new Marker(Trumpet.GLOSSARY);
  private static final Map<String, Set<ConceptId>> SHOWN = new HashMap<>();

  private static List<Item> items(ItemKind kind, int count) {
    List<Topic> topics = Trumpet.BANK.topics(kind);
    List<Item> items = new ArrayList<>();
    int failed = 0;
    for (int i = 0; items.size() < count; i++) {
      Optional<Item> item = Trumpet.BANK.write(kind, topics.get(i % topics.size()), 1, 31L * i);
      item.ifPresent(items::add);
      failed += item.isPresent() ? 0 : 1;
      assertTrue(failed < count / 4, kind + ": one of four draws yields no item");
    }
    return items;
  }

  private static Set<ConceptId> shown(Item item) {
    return SHOWN.computeIfAbsent(item.view() + item.variants(), k -> Trumpet.PICTURES.sight(item).seen());
  }

  private static double credit(Item item, Answer answer) {
    return MARKER.mark(item, answer, new Pictures.Sight(shown(item), shown(item)), true).credit();
  }

  @ParameterizedTest
  @EnumSource(ItemKind.class)
  void theOracleFindsOneKeyAndItIsTheItems(ItemKind kind) {
    Set<String> distinct = new HashSet<>();
    for (Item item : items(kind, ITEMS)) {
      distinct.add(item.key() + item.interaction().toString());
      if (item.choice().isPresent()) {
        checkChoice(item);
      } else if (item.ordering().isPresent()) {
        checkOrdering(item);
      } else if (kind.isTyped()) {
        checkTyped(item);
      } else {
        assertEquals(1, credit(item, new Answer.Pointed(Optional.of(item.key()))), "the place itself: " + item);
      }
      assertEquals(0, credit(item, Answer.none(kind)), "no answer: " + item);
    }
    System.out.printf(
        Locale.ROOT, "oracle: %-13s %,d items, %,d distinct, about %d topics: each has one key, and it is the item's%n",
        kind.word(), ITEMS, distinct.size(), Trumpet.BANK.topics(kind).size());
  }

  private static void checkChoice(Item item) {
    Interaction.Choice choice = item.choice().orElseThrow();
    assertEquals(List.of(choice.key().text()), ORACLE.right(item, shown(item)), "right by the oracle: " + item);
    assertEquals(item.kind().choices(), choice.options().size(), "options of " + item);
    for (Option option : choice.options()) {
      double credit = credit(item, new Answer.Chosen(Optional.of(option.id())));
      assertEquals(option.isKey() ? 1 : 0, credit, option + " of " + item);
    }
    boolean ofNames = item.kind() == ItemKind.CHOOSE_NAME || item.kind() == ItemKind.LOOK_ALIKES;
    choice.key().part().filter(p -> Trumpet.GLOSSARY.find(p).isPresent()).ifPresent(
        key -> checkNames(choice, key, ofNames ? shown(item) : Set.of()));
  }

  /** By naming, no distractor could pass as a name of the key, nor the key as a name of a distractor. */
  private static void checkNames(Interaction.Choice choice, ConceptId key, Set<ConceptId> shown) {
    for (Option other : choice.options()) {
      if (!other.isKey()) {
        assertFalse(ORACLE.names(key, other.text(), shown), other.text() + " could name the " + choice.key().text());
        assertFalse(
            ORACLE.names(other.part().orElseThrow(), choice.key().text(), shown),
            choice.key().text() + " could name the " + other.text());
      }
    }
  }

  private static void checkOrdering(Item item) {
    assertEquals(Optional.empty(), ORACLE.faultOfOrdering(item), item.toString());
    List<StepId> listed = ORACLE.procedure(item).stepIds();
    assertFalse(ORACLE.breaks(ORACLE.procedure(item), listed));
    assertEquals(1, credit(item, new Answer.Ordered(listed.stream().map(StepId::value).toList())));
    List<StepId> shown = item.ordering().orElseThrow().shown();
    assertTrue(credit(item, new Answer.Ordered(shown.stream().map(StepId::value).toList())) < 1, "as shown: " + item);
  }

  private static void checkTyped(Item item) {
    String term = Trumpet.GLOSSARY.get(item.key()).term();
    assertEquals("right", ORACLE.verdict(item.key(), term, shown(item)));
    if (item.kind() == ItemKind.NAME) {
      assertEquals(1, credit(item, new Answer.Typed(term)), "the preferred term: " + item);
      return;
    }
    assertEquals(0, credit(item, new Answer.Typed(term)), "the term that is shown: " + item);
    List<String> examples = ((Interaction.TextEntry) item.interaction()).examples();
    assertFalse(examples.isEmpty(), "no second term is known: " + item);
    for (String example : examples) {
      assertEquals("right-synonym", ORACLE.verdict(item.key(), example, shown(item)), example + " for " + item);
      assertEquals(1, credit(item, new Answer.Typed(example)), example + " for " + item);
    }
  }

  /** What a drawing looks like, whatever the numbers of its shapes. */
  private static String drawing(Item item) {
    return item.view() + item.variants().stream().sorted().toList() + item.lit();
  }

  @Test
  void everyDrawingShowsItsPartAndNamesNone() {
    Map<String, Item> distinct = new LinkedHashMap<>();
    for (ItemKind kind : ItemKind.values()) {
      for (Topic topic : Trumpet.BANK.topics(kind)) {
        Trumpet.BANK.write(kind, topic, 1, 5).filter(Item::isDrawn).ifPresent(i -> distinct.putIfAbsent(drawing(i), i));
      }
    }
    List<String> telling = tellingNames();
    for (Item item : distinct.values()) {
      Picture picture = Trumpet.PICTURES.asking(item, false);
      ConceptId asked = item.lit().orElse(item.key());
      assertTrue(picture.visible().get(asked).areaPx() >= Pictures.SMALLEST, asked + " is hardly seen in " + item.view());
      String svg = picture.svg().toLowerCase(Locale.ROOT);
      assertFalse(svg.contains("<title") || svg.contains("<text") || svg.contains("aria-"), "words in " + item);
      telling.forEach(name -> assertFalse(svg.contains(name), name + " stands in the drawing of " + item));
    }
    System.out.printf(Locale.ROOT, "oracle: %d distinct drawings: the part is seen and nothing is named%n", distinct.size());
  }

  // single words of ids, such as "bell", may be words of the drawing's own style; longer ones may not
  private static List<String> tellingNames() {
    return Trumpet.GLOSSARY.nameable().stream()
        .flatMap(c -> Stream.concat(
            Stream.of(c.id().value()), c.terms().stream().map(Term::text)))
        .map(t -> t.toLowerCase(Locale.ROOT))
        .filter(t -> t.contains("-") || t.contains(" "))
        .toList();
  }

  @Test
  void noDrillAsksTheSameTwice() {
    ItemDraw draw = new ItemDraw(Trumpet.BANK, Chances.byStructure());
    Plan plan =
        Plan.ofAssemblies(Trumpet.BANK.assemblies(), EnumSet.allOf(ItemKind.class), Plan.LONGEST, true);
    ItemWords words = new ItemWords(new PartNames(Trumpet.GLOSSARY));
    int items = 0;
    for (long seed = 0; seed < 200; seed++) {
      Set<String> asked = new HashSet<>();
      Set<ConceptId> named = new HashSet<>();
      for (Item item : draw.items(plan, seed)) {
        items++;
        String options = item.choice().map(c -> c.options().stream().map(Option::text).sorted().toList().toString()).orElse("");
        assertTrue(asked.add(item.kind() + words.stem(item) + item.lit() + options), "twice: " + item);
        boolean ofPart = item.kind().asksAboutPart() && item.kind() != ItemKind.AIR_PATH;
        assertTrue(!ofPart || named.add(item.key()), item.key() + " is asked for twice");
      }
    }
    assertEquals(200 * Plan.LONGEST, items, "each drill is as long as it was asked to be");
    System.out.printf(Locale.ROOT, "oracle: 200 drills of all kinds, %,d items: none twice in a drill%n", items);
  }

  @Test
  void noPageTellsItsAnswer() {
    try (Database database = RealDatabases.h2()) {
      Clock clock = Clock.fixed(Instant.parse("2026-11-02T12:00:00Z"), ZoneOffset.UTC);
      PeopleStore people = new PeopleStore(database, clock);
      Person wren = new Person(UUID.randomUUID(), "wren", "Invented wren", Role.APPRENTICE, Optional.empty());
      people.add(wren, Optional.of("copper kettle"), Optional.empty());
      DrillStore store = new DrillStore(database);
      DrillPages pages =
          new DrillPages(
              people, store, new RulingStore(database), Curriculum.bundled(), Trumpet.GLOSSARY, Trumpet.STUDIO,
              new Work(Optional.of(Trumpet.PROCEDURES), List.of(Trumpet.CLEARANCE)), clock, ZoneOffset.UTC);
      try (WebServer server =
          WebServer.start(new WebConfig("127.0.0.1", 0, false, List.of()), people, List.of(pages))) {
        Browser browser = new Browser(server.port());
        browser.signIn("wren", "copper kettle", "/");
        int checked = 0;
        for (ItemKind kind : ItemKind.values()) {
          Sitting sitting = sitting(wren, kind);
          store.open(sitting).orElseThrow();
          for (Item item : store.sitting(sitting.id()).orElseThrow().items()) {
            assertEquals(sitting.items().get(item.position() - 1), item, "it is kept exactly as it was written");
            checkPage(item, browser.get("/drill/" + sitting.id() + "/" + item.position()).body());
            checked++;
          }
        }
        System.out.printf(Locale.ROOT, "oracle: %d pages: none tells its answer%n", checked);
      }
    }
  }

  private static Sitting sitting(Person wren, ItemKind kind) {
    List<Topic> topics = new ArrayList<>(Trumpet.BANK.topics(kind));
    Collections.shuffle(topics, new Random(3));
    List<Item> items = new ArrayList<>();
    for (int i = 0; items.size() < PAGES; i++) {
      Trumpet.BANK.write(kind, topics.get(i % topics.size()), items.size() + 1, i).ifPresent(items::add);
    }
    Plan plan = new Plan(List.of(), List.of(items.get(0).key()), Set.of(kind), 1, true);
    return new Sitting(
        UUID.randomUUID(), wren.id(), Optional.empty(), 1, "Questions", plan, 1, "e", Instant.EPOCH, items);
  }

  private static final Pattern LABEL =
      Pattern.compile("<label class=\"choice\"><input type=\"radio\" name=\"option\" value=\"(\\d+)\"([^>]*)><span>([^<]*)</span></label>");

  /** All of the page but the stem, the lines given and the options' texts, which are alike but for their numbers. */
  private static void checkPage(Item item, String html) {
    ItemWords words = new ItemWords(new PartNames(Trumpet.GLOSSARY));
    String rest = unescaped(html.substring(html.indexOf("<main"), html.indexOf("</main>")));
    assertTrue(rest.contains(words.stem(item)), "the stem stands on the page of " + item);
    rest = rest.replace(words.stem(item), "");
    for (String line : words.given(item)) {
      rest = rest.replaceFirst(Pattern.quote("<li>" + line + "</li>"), "");
    }
    if (item.choice().isPresent()) {
      rest = withoutOptions(item, rest);
    }
    if (item.ordering().isPresent()) {
      List<String> shown = new ArrayList<>();
      Matcher step = Pattern.compile("name=\"step\" value=\"([^\"]*)\"").matcher(rest);
      while (step.find()) {
        shown.add(step.group(1));
      }
      assertEquals(item.ordering().get().shown().stream().map(StepId::value).toList(), shown);
      return;
    }
    String left = rest.toLowerCase(Locale.ROOT);
    if (!item.kind().isPointed()) {
      for (String key : words.key(item)) {
        assertFalse(left.contains(key.toLowerCase(Locale.ROOT)), "“" + key + "” stands beside the question: " + item);
      }
    }
    if (item.kind().asksAboutPart()) {
      assertFalse(left.contains(item.key().value()) && item.key().value().contains("-"), item.key() + " in the page");
    }
  }

  private static String withoutOptions(Item item, String html) {
    List<String> texts = new ArrayList<>();
    Set<String> others = new HashSet<>();
    Matcher label = LABEL.matcher(html);
    while (label.find()) {
      texts.add(label.group(3));
      assertEquals(String.valueOf(texts.size()), label.group(1), "options are numbered in the order shown");
      others.add(label.group(2).replace(" data-focus", "").strip());
    }
    assertEquals(item.choice().orElseThrow().options().stream().map(Option::text).toList(), texts);
    assertEquals(1, others.size(), "the options differ in more than their texts: " + others);
    return label.replaceAll("");
  }

  private static String unescaped(String html) {
    return html.replace("&#39;", "'").replace("&quot;", "\"").replace("&#x27;", "'").replace("&amp;", "&");
  }

  @Test
  void theKeyStandsInEveryPlaceAlike() {
    for (ItemKind kind : ItemKind.values()) {
      if (kind.isChosen() && kind != ItemKind.READING) {
        Map<Integer, Long> places =
            items(kind, 2_000).stream()
                .map(i -> i.choice().orElseThrow())
                .collect(Collectors.groupingBy(c -> c.options().indexOf(c.key()), Collectors.counting()));
        double usual = 2_000.0 / kind.choices();
        // five standard deviations of a fair draw
        double spread = 5 * Math.sqrt(usual * (1 - 1.0 / kind.choices()));
        places.forEach((place, n) -> assertTrue(Math.abs(n - usual) < spread, kind + " at place " + place + ": " + n));
        assertEquals(kind.choices(), places.size());
      }
    }
  }
}
