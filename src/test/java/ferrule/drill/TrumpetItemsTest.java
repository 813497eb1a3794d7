package ferrule.drill;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drawing.Picture;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Term;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/** Items for every part of the real trumpet that can be asked for, against what their drawings really hold. */
class TrumpetItemsTest {

  private static final Pattern GROUP = Pattern.compile("<g class=\"part([^\"]*)\" data-shape=\"(\\d+)\"");
  private static final ItemPool POOL = Trumpet.PICTURES.pool();
  private static final Plan EVERYTHING =
      Plan.ofAssemblies(POOL.assemblies(), EnumSet.copyOf(ItemKind.usual()), Plan.LONGEST, true);

  private static List<Item> itemsOfManyDrills() {
    ItemDraw draw = new ItemDraw(Trumpet.BANK, Chances.byStructure());
    List<Item> items = new ArrayList<>();
    for (long seed = 0; seed < 20; seed++) {
      items.addAll(draw.items(EVERYTHING, seed));
    }
    return items;
  }

  /** The numbers of the shapes that are lit in the source of a drawing. */
  private static Set<Integer> litIn(String svg) {
    Set<Integer> lit = new LinkedHashSet<>();
    Matcher group = GROUP.matcher(svg);
    while (group.find()) {
      if (group.group(1).contains("lit")) {
        lit.add(Integer.parseInt(group.group(2)));
      }
    }
    return lit;
  }

  private static boolean isOrBelongsTo(ConceptId part, ConceptId whole) {
    return part.equals(whole)
        || Trumpet.GLOSSARY.wholesOf(part).stream().map(Concept::id).anyMatch(whole::equals);
  }

  @Test
  void everyAssemblyThatStandsOnTheOutsideHasPartsToAskFor() {
    assertTrue(POOL.parts().size() >= 70, POOL.parts().size() + " parts can be asked for");
    for (String term : List.of("leadpipe assembly", "main tuning slide assembly", "valve section", "bell assembly")) {
      assertTrue(POOL.sizeOf(Trumpet.part(term)) >= 3, term + " has " + POOL.sizeOf(Trumpet.part(term)));
    }
  }

  @Test
  void exactlyThePartThatIsToBeNamedIsLit() {
    for (Item item : itemsOfManyDrills()) {
      Picture picture = Trumpet.PICTURES.asking(item, false);
      Set<Integer> lit = litIn(picture.svg());
      if (item.kind() == ItemKind.FIND) {
        assertEquals(Set.of(), lit, "nothing may tell the part apart: " + item);
      } else {
        assertFalse(lit.isEmpty(), "nothing is lit: " + item);
        lit.forEach(n -> assertTrue(isOrBelongsTo(picture.shapes().get(n), item.key()), n + " is lit: " + item));
      }
    }
  }

  @Test
  void thePartIsSeenInTheViewThatAsksForIt() {
    for (Item item : itemsOfManyDrills()) {
      double area = Trumpet.PICTURES.asking(item, false).visible().get(item.key()).areaPx();
      assertTrue(area >= Pictures.SMALLEST, item + " shows " + area + " px² of it");
    }
  }

  @Test
  void pointingAtItsShapeIsRightAndAtAnyOtherPartIsNot() {
    Marker marker = new Marker(Trumpet.GLOSSARY);
    for (Item item : new ItemDraw(Trumpet.BANK, Chances.byStructure()).items(EVERYTHING, 4)) {
      Item find = new Item(1, ItemKind.FIND, item.key(), item.view(), item.variants(), item.pictureSeed());
      Pictures.Sight sight = Trumpet.PICTURES.sight(find);
      int shapes = Trumpet.PICTURES.asking(find, false).shapes().size();
      int right = 0;
      for (int n = 0; n < shapes; n++) {
        Optional<ConceptId> part = Trumpet.PICTURES.shape(find, n);
        boolean isRight = marker.mark(find, new Answer.Pointed(part), sight, true).isRight();
        assertTrue(!isRight || isOrBelongsTo(part.orElseThrow(), item.key()), part + " for " + item.key());
        right += isRight ? 1 : 0;
      }
      assertTrue(right >= 1, "no shape is right for " + item.key());
      assertEquals(Optional.empty(), Trumpet.PICTURES.shape(find, shapes));
    }
  }

  @Test
  void theSourceOfADrawingThatAsksNamesNoPart() {
    List<String> names = new ArrayList<>();
    for (Concept c : Trumpet.GLOSSARY.nameable()) {
      names.add(c.id().value());
      c.terms().stream().map(t -> t.text().toLowerCase(Locale.ROOT)).filter(t -> t.contains(" ")).forEach(names::add);
    }
    for (Item item : new ItemDraw(Trumpet.BANK, Chances.byStructure()).items(EVERYTHING, 11)) {
      String svg = Trumpet.PICTURES.asking(item, false).svg().toLowerCase(Locale.ROOT);
      assertFalse(svg.contains("<title") || svg.contains("<text") || svg.contains(" id=\"shape"), "words in " + item);
      for (String name : names) {
        // single words of ids, such as "bell", may be words of the drawing's own style; longer ones may not
        if (name.contains("-") || name.contains(" ")) {
          assertFalse(svg.contains(name), name + " stands in the drawing of " + item);
        }
      }
    }
  }

  @Test
  void theCaptionOfNoDrawingNamesThePartThatIsToBeNamed() {
    for (ConceptId part : POOL.parts()) {
      Showing s = POOL.find(part).orElseThrow();
      String caption = Trumpet.PICTURES.caption(new Item(1, ItemKind.NAME, part, s.view(), s.variants(), 1));
      for (Term term : Trumpet.GLOSSARY.get(part).terms()) {
        assertFalse(
            caption.toLowerCase(Locale.ROOT).contains(term.text().toLowerCase(Locale.ROOT)),
            "“" + caption + "” holds " + term.text());
      }
    }
  }

  @Test
  void anItemOfAViewThatIsGoneIsAskedInThePartsViewNow() {
    ConceptId crook = Trumpet.part("main tuning slide crook");
    Item old = new Item(1, ItemKind.NAME, crook, "a-view-of-long-ago", Set.of(), 1);
    Picture picture = Trumpet.PICTURES.asking(old, false);
    litIn(picture.svg()).forEach(n -> assertEquals(crook, picture.shapes().get(n)));
    assertTrue(Trumpet.PICTURES.sight(old).seen().contains(crook));
  }

  @Test
  void theNumberOfAShapeTellsNothing() {
    ConceptId crook = Trumpet.part("main tuning slide crook");
    Showing s = POOL.find(crook).orElseThrow();
    Set<Integer> numbers = new LinkedHashSet<>();
    for (long seed = 0; seed < 10; seed++) {
      Item item = new Item(1, ItemKind.FIND, crook, s.view(), s.variants(), seed);
      numbers.add(Trumpet.PICTURES.asking(item, false).shapes().indexOf(crook));
    }
    assertTrue(numbers.size() > 5, "the part has always the same numbers: " + numbers);
  }

  @Test
  void theNumbersBesideThePartsLeadToThem() {
    ConceptId crook = Trumpet.part("main tuning slide crook");
    Showing s = POOL.find(crook).orElseThrow();
    Item item = new Item(1, ItemKind.FIND, crook, s.view(), s.variants(), 3);
    Picture numbered = Trumpet.PICTURES.asking(item, true);
    int number = numbered.numbers().get(crook);
    assertTrue(numbered.svg().contains(">" + number + "<"));
    assertEquals(Optional.of(crook), Trumpet.PICTURES.numbered(item, number));
    assertNotEquals(Optional.of(crook), Trumpet.PICTURES.numbered(item, number + 1));
  }
}
