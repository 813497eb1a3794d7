package ferrule.drill.paper;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drill.Item;
import ferrule.drill.ItemKind;
import ferrule.drill.item.Interaction;
import ferrule.drill.item.Option;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class VersionsTest {

  private static final Versions BY_NAME =
      new Versions((view, variants, parts) -> parts.stream().sorted((a, b) -> a.value().compareTo(b.value())).toList());

  private static List<Item> twelve() {
    List<Item> items = new ArrayList<>();
    for (int i = 0; i < 12; i++) {
      String part = "part-" + (char) ('a' + (i * 5) % 12);
      items.add(new Item(i + 1, ItemKind.NAME, ConceptId.of(part), i < 8 ? "left" : "apart", Set.of(), i));
    }
    items.add(choice(13));
    return items;
  }

  private static Item choice(int position) {
    List<Option> options =
        IntStream.range(0, 4).mapToObj(i -> new Option("o" + i, "option " + i, i == 2, "because " + i)).toList();
    return new Item(
        position, ItemKind.TOOL, ConceptId.of("part-x"), "", Set.of(), 1, Optional.empty(),
        new Interaction.Choice("Which?", List.of(), options));
  }

  @Test
  void everyVersionAsksTheSameUnderNumbersThatCountFromOne() {
    List<Version> versions = BY_NAME.of(twelve(), 6, 3);
    assertEquals(List.of("A", "B", "C", "D", "E", "F"), versions.stream().map(Version::letter).toList());
    Set<ConceptId> asked = twelve().stream().map(Item::key).collect(Collectors.toSet());
    for (Version v : versions) {
      assertEquals(asked, v.items().stream().map(Item::key).collect(Collectors.toSet()));
      assertEquals(13, v.items().size());
    }
  }

  @Test
  void neighboursCannotCopyByNumber() {
    List<Version> versions = BY_NAME.of(twelve(), 6, 3);
    for (int a = 0; a < 6; a++) {
      for (int b = a + 1; b < 6; b++) {
        int same = 0;
        for (int n = 0; n < 12; n++) {
          same += versions.get(a).items().get(n).key().equals(versions.get(b).items().get(n).key()) ? 1 : 0;
        }
        assertTrue(same <= 4, versions.get(a).letter() + " and " + versions.get(b).letter() + " share " + same);
      }
    }
    Set<String> letters = new HashSet<>();
    versions.forEach(v -> {
      List<Option> options = v.items().get(12).choice().orElseThrow().options();
      letters.add(Sections.letter(options.indexOf(v.items().get(12).choice().orElseThrow().key())));
    });
    assertTrue(letters.size() > 1, "the key stands at " + letters);
  }

  @Test
  void whatSharesADrawingStandsTogetherAndRunsRoundIt() {
    for (Version v : BY_NAME.of(twelve(), 6, 3)) {
      List<String> views = v.items().stream().map(Item::view).toList();
      assertEquals(3, new HashSet<>(views).size());
      long changes = IntStream.range(1, views.size()).filter(i -> !views.get(i).equals(views.get(i - 1))).count();
      assertEquals(2, changes, views.toString());
      List<String> left = v.items().stream().filter(i -> i.view().equals("left")).map(i -> i.key().value()).toList();
      long turns = IntStream.range(0, 8).filter(i -> left.get(i).compareTo(left.get((i + 1) % 8)) > 0).count();
      assertTrue(turns == 1 || turns == 7, "once round, one way or the other: " + left);
    }
  }

  @Test
  void aSeedMakesTheSameVersionsAgainAndAnotherSeedOthers() {
    assertEquals(BY_NAME.of(twelve(), 4, 9), BY_NAME.of(twelve(), 4, 9));
    assertNotEquals(BY_NAME.of(twelve(), 4, 9), BY_NAME.of(twelve(), 4, 10));
  }

  @Test
  void whatIsStoredOfAnItemIsTheItem() {
    for (Item item : twelve()) {
      assertEquals(item, ItemDocument.read(item.position(), ItemDocument.write(item)));
    }
  }
}
