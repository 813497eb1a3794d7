package ferrule.report.bundle;

/** How long work says how far it is, and hears whether to go on. */
public interface Headway {

  /** Nobody asks how far it is. */
  Headway UNWATCHED = new Headway() {
    @Override
    public void begin(String step, long total) {}

    @Override
    public void advance(long by) {}
  };

  /**
   * Begins a step.
   *
   * @param step in words, such as "Judging First year"
   * @param total how much there is to do in it; 0 if that is not known
   * @throws Stopped if the work is to stop
   */
  void begin(String step, long total);

  /**
   * Says that so much more of the step is done. Called often; it may rest, so that others get on.
   *
   * @throws Stopped if the work is to stop
   */
  void advance(long by);

  /** The work is to stop: it was cancelled, or is another node's by now. */
  final class Stopped extends RuntimeException {

    private static final long serialVersionUID = 1;

    /** Says why. */
    public Stopped(String why) {
      super(why, null, false, false);
    }
  }
}
