package ferrule.drill.known;

/** One simulated apprentice's memory of one part. Times are in days. */
interface SimulatedMemory {

  /** The true chance that the name would be recalled at a time, if nothing happens until then. */
  double recall(double time);

  /** The name was asked for and then shown. */
  void practise(double time, boolean recalled);
}
