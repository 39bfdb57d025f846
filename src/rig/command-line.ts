/**
 * Kernel parameters that can change how fast or how evenly a rig runs. Only these are recorded; everything else on
 * the command line (disks, addresses, hosts, keys) is counted and left out.
 * Names: Documentation/admin-guide/kernel-parameters.txt.
 */
const plainNames = [
  'mitigations nopti pti nosmt spectre_v1 nospectre_v1 spectre_v2 nospectre_v2 spectre_v2_user spec_store_bypass_disable',
  'l1tf mds tsx tsx_async_abort mmio_stale_data retbleed srbds gather_data_sampling reg_file_data_sampling',
  'spec_rstack_overflow spectre_bhi kvm.nx_huge_pages nokaslr norandmaps',
  'maxcpus nr_cpus possible_cpus isolcpus nohz nohz_full rcu_nocbs rcu_nocb_poll irqaffinity housekeeping skew_tick',
  'idle intel_idle.max_cstate processor.max_cstate cpuidle.off cpuidle.governor nohlt',
  'cpufreq.off cpufreq.default_governor intel_pstate amd_pstate amd_prefcore amd_dynamic_epp',
  'preempt threadirqs nowatchdog nmi_watchdog nosoftlockup audit psi',
  'mem memmap_on_memory hugepages hugepagesz default_hugepagesz transparent_hugepage numa numa_balancing',
  'init_on_alloc init_on_free page_alloc.shuffle slab_nomerge slub_debug swapaccount zswap.enabled zswap.compressor',
  'clocksource tsc notsc hpet nohpet acpi acpi_osi noapic nolapic x2apic nox2apic',
  'pcie_aspm pcie_aspm.policy pcie_port_pm pci iommu iommu.passthrough iommu.strict intel_iommu amd_iommu swiotlb',
  'nvme_core.default_ps_max_latency_us nvme.poll_queues libahci.ignore_sss elevator scsi_mod.use_blk_mq',
  'amdgpu.ppfeaturemask amdgpu.dpm amdgpu.aspm amdgpu.runpm i915.enable_guc i915.enable_psr i915.enable_dc i915.enable_fbc',
  'nvidia-drm.modeset nomodeset selinux apparmor security lockdown randomize_kstack_offset split_lock_detect',
  'cgroup_disable cgroup_no_v1 systemd.unified_cgroup_hierarchy quiet splash ro rw',
]
  .join(' ')
  .split(' ');
// The kernel takes dashes and underscores in names as the same.
const sameDashes = (name: string) => name.replaceAll('-', '_');
const allowedNames = new Set(plainNames.map(sameDashes));

const allowedValue = /^[\w,.:+*-]{0,80}$/;

export interface ScrubbedCommandLine {
  /** `name` or `name=value`, in the order given. */
  readonly kept: readonly string[];
  readonly leftOut: number;
}

/** What of a kernel command line may be recorded. What follows `--` is for the first process, and left out. */
export function scrubCommandLine(line: string): ScrubbedCommandLine {
  const words: readonly string[] = line.trim().match(/(?:[^\s"]|"[^"]*"?)+/g) ?? [];
  const end = words.indexOf('--');
  const own = end < 0 ? words : words.slice(0, end);
  const kept = own.filter(isAllowed);
  return { kept, leftOut: words.length - kept.length - (end < 0 ? 0 : 1) };
}

function isAllowed(word: string): boolean {
  const [name = '', ...rest] = word.split('=');
  return allowedNames.has(sameDashes(name)) && allowedValue.test(rest.join('='));
}
