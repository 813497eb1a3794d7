package ferrule.drill;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.drawing.InstrumentReader;
import ferrule.drawing.Studio;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import ferrule.procedure.ProcedureReader;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;

/** How long a form of 60 items takes when the program is warm: of all kinds, and of names and places alone. */
public final class FormSpeed {

  private static final int WARM_UP = 200;
  private static final int MEASURED = 200;

  private FormSpeed() {}

  /** Prints the times. */
  public static void main(String[] args) {
    Problems problems = new Problems();
    Curriculum curriculum = Curriculum.bundled();
    Glossary glossary = GlossaryReader.read(curriculum, "trumpet", problems).orElseThrow();
    Studio studio =
        Studio.of(InstrumentReader.read(curriculum, "trumpet", glossary, problems).orElseThrow(), glossary);
    Work work = new Work(ProcedureReader.readBook(curriculum, glossary, problems), List.of());
    ItemBank bank = new Pictures(studio, glossary).bank(work);
    ConceptId crook = ConceptId.of("third-slide-crook");
    // a class that mixes something up, as every class does
    Map<ConceptId, Map<ConceptId, Integer>> mixedUp = Map.of(crook, Map.of(ConceptId.of("second-slide-crook"), 4));
    Plan all = Plan.ofAssemblies(bank.assemblies(), EnumSet.allOf(ItemKind.class), Plan.LONGEST, true);
    Plan usual = Plan.ofAssemblies(bank.assemblies(), EnumSet.copyOf(ItemKind.usual()), Plan.LONGEST, true);
    report("all kinds", bank, mixedUp, all);
    report("names and places", bank, mixedUp, usual);
  }

  private static void report(
      String what, ItemBank bank, Map<ConceptId, Map<ConceptId, Integer>> mixedUp, Plan plan) {
    ThreadMXBean processor = ManagementFactory.getThreadMXBean();
    double[] ms = new double[MEASURED];
    double[] own = new double[MEASURED];
    for (int i = -WARM_UP; i < MEASURED; i++) {
      long ownFrom = processor.getCurrentThreadCpuTime();
      long from = System.nanoTime();
      int items = new ItemDraw(bank.among(mixedUp), Chances.byStructure()).items(plan, i, 1, Set.of()).size();
      long to = System.nanoTime();
      if (items != Plan.LONGEST) {
        throw new IllegalStateException("a form of " + items + " items");
      }
      if (i >= 0) {
        ms[i] = (to - from) / 1e6;
        own[i] = (processor.getCurrentThreadCpuTime() - ownFrom) / 1e6;
      }
    }
    Arrays.sort(ms);
    Arrays.sort(own);
    System.out.printf(
        Locale.ROOT, "60 items, %s: median %.1f ms, 95 %% within %.1f ms; of the processor's time median %.1f ms, 95 %% within %.1f ms%n",
        what, ms[MEASURED / 2], ms[MEASURED * 95 / 100], own[MEASURED / 2], own[MEASURED * 95 / 100]);
  }
}
