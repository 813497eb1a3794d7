package ferrule.atlas;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drawing.View;
import ferrule.drawing.Visible;
import ferrule.glossary.Concept;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;

class PlatesTest {

  private static final Plates PLATES = new Plates(TheTrumpet.STUDIO, TheTrumpet.GLOSSARY);

  @Test
  void aPartOfOneModelIsShownOnThatModel() {
    Concept plunger = TheTrumpet.concept("third-slide-water-key-plunger");
    assertTrue(PLATES.variantsFor(plunger, List.of()).contains("button-key"));
    assertTrue(PLATES.variantsFor(plunger, List.of("lever-key")).contains("button-key"));
    assertFalse(PLATES.variantsFor(plunger, List.of("lever-key")).contains("lever-key"));
  }

  @Test
  void theChosenModelIsKeptWhereThePartHasNoSay() {
    Set<String> model = PLATES.variantsFor(TheTrumpet.concept("leadpipe"), List.of("professional", "no-such-model"));
    assertTrue(model.contains("professional"));
    assertEquals(TheTrumpet.GLOSSARY.variants().stream().map(v -> v.axis()).distinct().count(), model.size());
  }

  @Test
  void everyViewOfAPartShowsItFirstThoseOfItsAssembly() {
    Concept crook = TheTrumpet.concept("third-slide-crook");
    List<View> views = PLATES.showing(crook);
    assertTrue(views.size() >= 2, views.toString());
    assertEquals("third-slide-assembly", views.get(0).assembly().orElseThrow().value());
    for (View view : views) {
      assertTrue(seen(view, crook).areaPx() >= Plates.LEAST_AREA, view.id());
    }
    double clearest = clear(views.get(0), crook);
    views.stream().filter(v -> v.assembly().equals(views.get(0).assembly()) && v.variants().isEmpty())
        .forEach(v -> assertTrue(clear(v, crook) <= clearest, v.id()));
  }

  @Test
  void theViewsOfAnAssemblyComeFirst() {
    for (View view : TheTrumpet.STUDIO.views()) {
      view.assembly().ifPresent(of -> {
        Concept assembly = TheTrumpet.GLOSSARY.get(of);
        View first = PLATES.showing(assembly).get(0);
        assertEquals(view.assembly(), first.assembly(), "first view of " + of);
      });
    }
    assertTrue(PLATES.showing(TheTrumpet.concept("trumpet")).get(0).assembly().isEmpty());
  }

  private static double clear(View view, Concept part) {
    Visible visible = seen(view, part);
    return visible.areaPx() * visible.fraction();
  }

  private static Visible seen(View view, Concept part) {
    return TheTrumpet.STUDIO.visible(view.id(), Set.of()).get(part.id());
  }
}
